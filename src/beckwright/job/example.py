"""Hazel Bank, the invented example: in the package as in the checkout, to be copied and played with."""

from importlib.resources import files
from pathlib import Path

from beckwright.base.errors import JobError, Problem
from beckwright.job.new import write_files

NAME = "hazel_bank"
IN_CHECKOUT = Path(__file__).parents[3] / "examples" / NAME


def write_example(folder: Path | str) -> tuple[Path, ...]:
    """Copy the example into a folder, and return the files written.

    Nothing is ever written over: raises ``JobError`` where one of them is there.
    """
    packed = files("beckwright.job") / "example"
    source = packed if packed.is_dir() else IN_CHECKOUT
    if not source.is_dir():
        rule, remedy = "The example comes with the program", "Install beckwright again"
        raise JobError([Problem(place=NAME, found="it is not there", rule=rule, remedy=remedy)])
    texts = {
        each.name: each.read_text(encoding="utf-8")
        for each in source.iterdir()
        if each.is_file() and "sqlite" not in each.name
    }
    return write_files(folder, texts)
