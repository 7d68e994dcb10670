"""Which table of leak tests is read where several lie side by side."""

from pathlib import Path

STEM = "leak_test"
TABLE = f"{STEM}.csv"


def others_of(table: Path) -> tuple[str, ...]:
    """Names of the tables beside one, such as ``leak_test_2.csv``: each was written as a whole record."""
    return tuple(sorted(each.name for each in table.parent.glob(f"{STEM}*.csv") if each.name != table.name))


def read_said(table: Path, *, typed: bool) -> str:
    """Which table is read and which are not, in words; empty where there is no other.

    typed  whether rows typed on the page are read with it
    """
    others = others_of(table)
    if not others:
        return ""
    return f"Read: {table.name}{' and what was typed here' if typed else ''}. Not read: {', '.join(others)}."
