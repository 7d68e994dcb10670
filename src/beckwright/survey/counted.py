"""How many of a thing, in words."""

from beckwright.base.words import grouped


def counted(count: int, noun: str, plural: str = "") -> str:
    """``"1 point"``, ``"2 points"``, ``"3 leaves"``: the noun in its number."""
    return f"{grouped(count)} {noun if count == 1 else plural or noun + 's'}"
