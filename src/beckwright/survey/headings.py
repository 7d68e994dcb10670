"""Which column of a point list is which: by its heading, else proposed from the numbers and asked."""

import re
from collections.abc import Sequence
from itertools import permutations

import numpy as np

from beckwright.base.values import value
from beckwright.survey.unsure import Question

MEANINGS: dict[str, tuple[str, ...]] = {
    "id": ("id", "no", "nr", "num", "number", "point", "pt", "pnt", "p", "point id", "point no", "point number",
           "point name", "name", "pt no", "ptid", "pointid"),
    "x": ("x", "e", "east", "easting", "eastings", "x coordinate", "grid e"),
    "y": ("y", "n", "north", "northing", "northings", "y coordinate", "grid n"),
    "z": ("z", "h", "level", "lvl", "height", "elevation", "elev", "rl", "reduced level", "altitude", "ground level",
          "z coordinate", "ht"),
    "code": ("code", "feature", "feature code", "description", "desc", "remark", "remarks", "note", "layer", "type"),
    "breakline": ("breakline", "break line", "line", "string", "string no"),
}  # fmt: skip
"""Words surveyors head their columns with (from memory)."""
MEANING = {word: name for name, words in MEANINGS.items() for word in words}
DEGREES = ("lat", "latitude", "lon", "long", "longitude", "lng")
UNIT_WORDS = {"mm": "mm", "cm": "cm", "m": "m", "metre": "m", "metres": "m", "meters": "m"} | {
    "ft": "ft", "feet": "ft", "foot": "ft", "usft": "us-ft", "us-ft": "us-ft", "in": "in", "inches": "in",
}  # fmt: skip
WITH_UNIT = re.compile(rf"^(.*?)[\s_(\[/]+({'|'.join(sorted(UNIT_WORDS, key=len, reverse=True))})[)\]]?$")
PASSED_OVER = "-"
"""What a column is called on the command line that is not to be read."""
NEEDED = ("x", "y", "z")


@value
class Columns:
    """Where each column stands, and the units its heading named."""

    places: dict[str, int]
    width: int
    units: dict[str, str]
    passed_over: tuple[str, ...]
    twice: tuple[str, ...]


def by_heading(cells: Sequence[str]) -> Columns:
    """Read a heading. A word not known is passed over, and a second column of one meaning too."""
    places: dict[str, int] = {}
    units: dict[str, str] = {}
    over, twice = [], []
    for place, cell in enumerate(cells):
        name, unit = meaning_of(cell)
        if not name:
            over += [cell.strip()] if cell.strip() else []
        elif name in places:
            twice.append(cell.strip())
        else:
            places[name] = place
            units |= {name: unit} if unit else {}
    return Columns(places=places, width=len(cells), units=units, passed_over=tuple(over), twice=tuple(twice))


def by_names(names: Sequence[str]) -> Columns:
    """Columns as the person named them, in order. Names not known are returned in ``passed_over``."""
    found = by_heading(names)
    wrong = tuple(name for name in found.passed_over if name != PASSED_OVER)
    return Columns(places=found.places, width=found.width, units=found.units, passed_over=wrong, twice=found.twice)


def meaning_of(heading: str) -> tuple[str, str]:
    """Meaning and unit of one heading, each empty where it says none."""
    plain = heading.strip().lower().strip('"#')
    named = WITH_UNIT.match(plain)
    if named and (name := MEANING.get(_spaced(named[1]))):
        return name, UNIT_WORDS[named[2]]
    return MEANING.get(_spaced(plain), ""), ""


def _spaced(word: str) -> str:
    return " ".join(re.split(r"[\s_.\-/]+", word)).strip()


def is_degrees(cells: Sequence[str]) -> bool:
    """Whether a heading speaks of latitude and longitude."""
    return any(_spaced(cell.lower()).split(" ")[0] in DEGREES for cell in cells)


def ask_columns(line: Sequence[str], numbers: Sequence[Sequence[float | None]]) -> Question:
    """Propose what the columns are from the numbers of the first rows. ``line`` is the line to show."""
    proposed = _proposed(numbers)
    first = " | ".join(cell.strip() or "(empty)" for cell in line)
    says = f"The list has no heading that names x, y and z. Its first line is: {first}. Which column is which?"
    return Question(about="columns", says=says, choices=_choices(proposed))


def _choices(proposed: list[str]) -> tuple[tuple[str, str], ...]:
    if not set(NEEDED) <= set(proposed):
        return (('--columns "id,x,y,z,code"', "the names in your own order, - for a column to pass over"),)
    turned = [{"x": "y", "y": "x"}.get(name, name) for name in proposed]
    return (
        (f'--columns "{",".join(proposed)}"', "as the numbers suggest, easting before northing"),
        (f'--columns "{",".join(turned)}"', "northing before easting"),
    )


def _proposed(numbers: Sequence[Sequence[float | None]]) -> list[str]:
    width = min(map(len, numbers))
    columns = [[row[place] for row in numbers] for place in range(width)]
    full = [place for place in range(width) if all(number is not None for number in columns[place])]
    names = [PASSED_OVER] * width
    if len(full) >= 3:
        if full[0] > 0 or (len(full) > 3 and _counts(columns[0])):
            names[0] = "id"
            full = [place for place in full if place != 0]
        three = min(permutations(full[:4], 3), key=lambda each: _unlikely(columns, each))
        for name, place in zip(NEEDED, three, strict=True):
            names[place] = name
    texts = [place for place in range(1, width) if all(number is None for number in columns[place])]
    if texts:
        names[texts[0]] = "code"
    return names


def _counts(column: Sequence[float | None]) -> bool:
    """Whether a column counts up in whole numbers, as point numbers do."""
    steps = np.diff(np.array(column, dtype=float))
    return bool(len(steps) and (steps > 0).all() and (steps % 1 == 0).all())


def _unlikely(columns: Sequence[Sequence[float | None]], three: tuple[int, ...]) -> tuple[float, tuple[int, ...]]:
    """The level has the narrowest range, the plan the wider two, easting first."""
    x, y, z = (float(np.ptp(np.array(columns[place], dtype=float))) for place in three)
    return (z / (min(x, y) + 1e-9) - 1e-6 * (x + y), (int(three[0] > three[1]), *three))
