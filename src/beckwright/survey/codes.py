"""What surveyors write beside a point, in our own words: one code for each kind of thing, and what else was said."""

import re
from collections import Counter
from collections.abc import Sequence

from beckwright.base.quantities import Length
from beckwright.base.values import value

VOCABULARY: dict[str, tuple[str, ...]] = {
    "GL": ("gl", "ground", "ground level", "grd", "natural ground", "spot", "spot level", "spot height", "existing"),
    "PAV": ("pav", "paving", "paved", "path", "patio", "terrace"),
    "TREE": ("tree", "trees", "tr", "trunk", "stem", "bole", "conifer"),
    "WALL": ("wall", "walls", "retaining wall", "garden wall"),
    "BDY": ("bdy", "boundary", "boundary line", "fence", "fence line", "railing", "hedge line", "plot line"),
    "SERVICE": ("service", "services", "utility", "utilities"),
    "DRAIN": ("drain", "drains", "manhole", "mh", "inspection chamber", "ic", "gully", "sewer", "foul", "rodding eye"),
    "GAS": ("gas", "gas main", "gas valve"),
    "ELECTRICITY": ("electricity", "electric", "electric cable", "supply cable", "cable", "power", "elec"),
    "TELEPHONE": ("telephone", "telecom", "telecoms", "phone", "data cable"),
    "MAIN": ("main", "water main", "water pipe", "supply pipe", "stopcock", "stop tap", "hydrant", "water meter"),
    "WATER": ("water", "water level", "water edge", "water's edge", "stream", "ditch", "pool", "brook", "river"),
    "TOP": ("top", "bank top", "top of bank", "tob", "crest", "top of slope"),
    "FOOT": ("foot", "bank foot", "foot of bank", "toe", "toe of bank", "bottom of bank", "foot of slope"),
    "BLD": ("bld", "bldg", "building", "house", "house corner", "shed", "garage", "outbuilding"),
    "MARK": ("mark", "bm", "tbm", "benchmark", "bench mark", "peg", "nail", "datum", "control", "station", "stn"),
}
"""Words for one thing, common on site (from memory). Short forms with two meanings, such as wl, are left out."""
SERVICES = {
    "SERVICE": "",
    "DRAIN": "drain",
    "GAS": "gas",
    "ELECTRICITY": "electricity",
    "TELEPHONE": "telephone",
    "MAIN": "water",
}
BOUNDARIES = {"WALL": "wall", "BDY": "boundary", "BLD": "building"}
EDGES = ("TOP", "FOOT", "WALL", "WATER", "BDY")
"""Things whose points stand in a row: joined, they keep the net of triangles from cutting across."""
LEVEL_UNSURE = {"WALL": "its top or its foot", "BLD": "the ground or the building", "TREE": "the ground at its stem"}
"""Things a level may be shot on that is not the ground's."""

MEANINGS = {word: code for code, words in VOCABULARY.items() for word in words}
LONGEST_PHRASE = max(word.count(" ") + 1 for word in MEANINGS)
WORD = re.compile(r"(?:[^\s_/:.-]|(?<=\d)\.(?=\d))+")
NUMBERED = re.compile(r"^([a-z']*[a-z])(\d+)$")
AMOUNT = re.compile(r"^(\d+(?:[.,]\d+)?)(mm|cm|m)?$")
THINNEST, THICKEST_IN_METRES, THINNEST_IN_MILLIMETRES = 0.01, 5.0, 100.0
"""A bare number is a stem in metres from the first to the second, in mm from the third; between it may be in cm."""


@value
class Feature:
    """One code taken apart.

    code    our own word, or what was written where that is not known
    known   whether it is one of ours
    string  number of the wall or edge, where several are told apart
    detail  what else was said, such as ``oak 0.62``
    """

    code: str
    known: bool
    string: str = ""
    detail: str = ""

    @property
    def written(self) -> str:
        """The code as survey.csv holds it."""
        return f"{self.code}{self.string} {self.detail}".rstrip()


@value
class CodeTold:
    """How many points were coded so, and what the code became."""

    written: str
    became: str
    known: bool
    count: int


def read_code(written: str) -> Feature:
    """Take one code apart. Case, points, strokes and underscores do not matter; an unknown code stays as it is."""
    written = written.strip()
    words = list(WORD.finditer(written))
    for length in range(min(LONGEST_PHRASE, len(words)), 0, -1):
        *before, last = (word[0].lower() for word in words[:length])
        numbered = NUMBERED.match(last)
        for word, string in ((last, ""), *([numbered.groups()] if numbered else [])):
            code = MEANINGS.get(" ".join([*before, word]))
            if code:
                return _feature(code, string, words[length:], written)
    return Feature(code=written, known=False)


def _feature(code: str, string: str, rest: list[re.Match[str]], written: str) -> Feature:
    if not string and rest and rest[0][0].isdigit() and code in EDGES:
        string, rest = rest[0][0], rest[1:]
    return Feature(code=code, known=True, string=string, detail=written[rest[0].start() :] if rest else "")


def told(written: Sequence[str], features: Sequence[Feature]) -> tuple[CodeTold, ...]:
    """Count the codes and what they became, the most frequent first; details do not part them."""
    pairs = Counter(
        (_head(word, feature), f"{feature.code}{feature.string}", feature.known)
        for word, feature in zip(written, features, strict=True)
    )
    return tuple(
        CodeTold(written=head, became=became, known=known, count=count)
        for (head, became, known), count in sorted(pairs.items(), key=lambda pair: (-pair[1], pair[0]))
    )


def _head(written: str, feature: Feature) -> str:
    return written.strip().removesuffix(feature.detail).strip() if feature.detail else written.strip()


def species_and_stem(detail: str) -> tuple[str, Length | None]:
    """Species and stem diameter, m, of what was said of a tree; None where no size was said or its unit is not sure."""
    species, stem = [], None
    for word in re.split(r"[\s_]+", detail):
        amount = AMOUNT.match(word.lower())
        if amount is None:
            species.append(word)
        elif stem is None:
            stem = _stem(float(amount[1].replace(",", ".")), amount[2])
    return " ".join(species), stem


def _stem(number: float, unit: str | None) -> Length | None:
    if unit:
        stem = number * {"mm": 1e-3, "cm": 1e-2, "m": 1.0}[unit]
    elif THICKEST_IN_METRES < number < THINNEST_IN_MILLIMETRES:
        return None
    else:
        stem = number if number <= THICKEST_IN_METRES else number * 1e-3
    return stem if THINNEST <= stem <= THICKEST_IN_METRES else None
