"""Where the numbers of a plain statement stand: most edits change a few of them, and nothing else of it."""

import re
from collections.abc import Mapping

from beckwright.base.values import value
from beckwright.job.wording.keylines import Path

_PLAIN = re.compile(r"[^=\n]*=(?=[\s\d.,+\[\]-]*\Z)")
"""A key with a value of digits, points, signs, commas and brackets: neither texts nor comments are in it."""
_TOKEN = re.compile(r"[\[\],]|[^\s\[\],]+")
_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")


@value
class Spot:
    """A number and the characters it takes up."""

    number: int | float
    start: int
    end: int


def spots_of(statement: str) -> Mapping[Path, Spot]:
    """The numbers of a statement that parses, by their places in its lists; none where it holds anything else too."""
    plain = _PLAIN.match(statement)
    if plain is None:
        return {}
    spots: dict[Path, Spot] = {}
    places: list[int] = []
    for token in _TOKEN.finditer(statement, plain.end()):
        match token[0]:
            case "[":
                places.append(0)
            case "]":
                places.pop()
            case ",":
                places[-1] += 1
            case digits if found := _NUMBER.fullmatch(digits):
                number = float(digits) if found[1] else int(digits)
                spots[tuple(places)] = Spot(number=number, start=token.start(), end=token.end())
            case _:
                return {}  # A date.
    return spots
