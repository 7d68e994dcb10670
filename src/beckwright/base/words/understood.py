"""What a person types as a length, a volume or a flow: ``3.2``, ``12' 6 1/2"``, ``25 mm``, ``130 US gal/h``.

The only place where what was typed changes unit. A number with its own unit is understood whatever the reader reads; a
bare one is in the unit the label names. A gallon is never guessed: to who reads metric units it may be either.
"""

import re
from dataclasses import dataclass

from beckwright.base.words.amounts import grouped, tape_inches
from beckwright.base.words.measures import (
    FOOT,
    INCH,
    METRIC,
    US,
    US_GALLON,
    Measure,
    customary,
    reads,
    told_in,
    unit_called,
)

YARD = 3 * FOOT
IMPERIAL_GALLON = 4.54609e-3
"""m³, by definition (NIST SP 811, appendix B.8: gallon, Canadian and U.K. (Imperial))."""
_INCHES_IN_A_FOOT = 12
_LONGEST = 40
_HOUR, _MINUTE, _DAY = 3600.0, 60.0, 86400.0

_LENGTHS = (
    ("mm millimetre millimetres millimeter millimeters", 1e-3),
    ("cm centimetre centimetres centimeter centimeters", 1e-2),
    ("m metre metres meter meters", 1.0),
    ('" in inch inches', INCH),
    ("' ft foot feet", FOOT),
    ("yd yard yards", YARD),
)
_VOLUMES = (
    ("l litre litres liter liters", 1e-3),
    ("ml millilitre millilitres milliliter milliliters", 1e-6),
    ("m3 m³", 1.0),
    ("ft3 ft³", FOOT**3),
    ("yd3 yd³", YARD**3),
)
_TIMES = (
    ("s sec second seconds", 1.0),
    ("min minute minutes", _MINUTE),
    ("h hr hour hours", _HOUR),
    ("d day days", _DAY),
)


def _sizes(rows: tuple[tuple[str, float], ...]) -> dict[str, float]:
    return {word: size for words, size in rows for word in words.split()}


_SIZES = {"length": _sizes(_LENGTHS), "volume": _sizes(_VOLUMES), "time": _sizes(_TIMES)}
_KINDS = {
    "m": ("length", 1.0),
    "cm": ("length", 1e-2),
    "mm": ("length", 1e-3),
    "L": ("volume", 1e-3),
    "m³": ("volume", 1.0),
    "L/h": ("flow", 1e-3 / _HOUR),
    "L/min": ("flow", 1e-3 / _MINUTE),
    "L/s": ("flow", 1e-3),
}
"""What a metric unit measures, and how much one of it is in SI."""
_NO_METRIC = frozenset({'"', "in", "inch", "inches", "'", "ft", "foot", "feet", "yd", "yard", "yards"})
_GALLON = re.compile(r"(?:(us|u\.s\.)|(imp|imp\.|imperial|uk|u\.k\.))? ?gal(?:s|lon|lons)?")
_RATE = re.compile(r"(?P<volume>.*?) ?(?:/|\bper\b|\ban?\b) ?(?P<time>[a-z]+)")
_SHORT = re.compile(r"(?P<whose>.*?) ?(?P<volume>[gl])p(?P<time>[hm])")
"""``gph``, ``US gpm``, ``lpm``: a rate in three letters."""
_SPELT = {"g": "gal", "l": "l", "h": "h", "m": "min"}

_NUMBER = r"(?:\d{1,3}(?: \d{3})+(?:[.,]\d{1,6})?|\d{1,9}(?:[.,]\d{0,9})?|[.,]\d{1,9})"
_MIXED = rf"(?:(?:\d{{1,6}}[ -])?\d{{1,4}}/\d{{1,4}}|{_NUMBER})"
_ONE = re.compile(rf"(?P<sign>[+-]?) ?(?P<number>{_MIXED}) ?(?P<unit>['\"A-Za-z].*)?", re.ASCII)
_FEET_AND_INCHES = re.compile(
    rf"(?P<sign>[+-]?) ?(?P<feet>\d{{1,6}}) ?(?:'|ft\.?|foot|feet)[ ,-]*"
    rf"(?P<inches>{_MIXED}) ?(?:\"|in\.?|inch|inches)?",
    re.ASCII | re.IGNORECASE,
)
_THOUSANDS = re.compile(r"\d{1,3},\d{3}", re.ASCII)
"""1,400 is 1400 to who reads US units, and 1.4 to others."""
_PLAIN = str.maketrans(
    {"\u2212": "-", "\u2013": "-", "\u2032": "'", "\u2033": '"', "\u2019": "'", "\u2018": "'", "\u201d": '"'}
    | {"\u201c": '"', "\u00a0": " ", "\u2009": " ", "\u202f": " "}
    | {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
)


@dataclass(frozen=True, slots=True)
class Understood:
    """What was typed.

    amount  in the metric unit it was asked for; None where it cannot be used
    found   what is wrong with it, and ``remedy`` what to write instead; both empty where nothing is
    offers  what it may have been, to be typed in its place
    bare    it has no unit of its own
    """

    text: str
    amount: float | None
    found: str = ""
    remedy: str = ""
    offers: tuple[str, ...] = ()
    bare: bool = False

    @property
    def asked(self) -> str:
        """Both as sentences."""
        return f"{self.found}. {self.remedy}." if self.found else ""


def understood(text: str, unit: str, measure: Measure | None = None) -> Understood:
    """Read one number.

    unit     metric unit of what it is for: ``m``, ``mm``, ``L``, ``L/h``; any other takes a bare number alone
    measure  units the label named; those of the reader where none are said
    """
    measure = reads() if measure is None else measure
    plain = " ".join(text.translate(_PLAIN).replace("''", '"').split())[: _LONGEST + 1]
    both, one = _FEET_AND_INCHES.fullmatch(plain), _ONE.fullmatch(plain)
    if both is not None:
        return _feet_and_inches(text, both, unit, measure)
    number = None if one is None else _number(one["number"])
    if one is None or number is None:
        return _refused(text, "is no number", unit, measure)
    number = -number if one["sign"] == "-" else number
    if one["unit"] is None:
        return _bare(text, number, unit, measure, in_thousands=_THOUSANDS.fullmatch(one["number"]) is not None)
    return _with_its_unit(text, one, number, unit, measure)


def with_own_unit(text: str, unit: str, measure: Measure) -> str:
    """What was typed, to be read by whoever reads now: a bare number that was typed in other units gets its own."""
    if measure is reads() or not understood(text, unit, measure).bare:
        return text
    with told_in(measure):
        return f"{text.strip()} {unit_called(unit)}"


def as_typed(amount: float, unit: str) -> str:
    """An amount of a metric unit as a person would type it into a field of the reader's: ``39.37``, ``23 5/8``.

    Three decimals of a metre or a foot, strokes of a tape in inches. What is not typed over is never read back.
    """
    other = customary(unit)
    there = amount if other is None else amount * other.times + other.more
    if other is not None and other.name == "in":
        return tape_inches(there).replace("\u2212", "-").replace("\u2009", "")
    return f"{round(there, 3) + 0.0:.3f}".rstrip("0").rstrip(".")


def _bare(text: str, number: float, unit: str, measure: Measure, *, in_thousands: bool) -> Understood:
    if measure is US and in_thousands:
        return _either_comma(text)
    with told_in(measure):
        other = customary(unit)
    # A number in the unit of its key stays the very number.
    amount = number if other is None else _tidied((number - other.more) / other.times)
    return Understood(text=text, amount=amount, bare=True)


def _with_its_unit(text: str, one: re.Match[str], number: float, unit: str, measure: Measure) -> Understood:
    kind, each = _KINDS.get(unit, ("", 1.0))
    word = _spelt_out(one["unit"].rstrip(". ").lower())
    if kind in ("volume", "flow") and _whose(word) == "" and measure is not US:
        return _which_gallon(text, f"{one['sign']}{one['number']}", number, word, unit)
    size = _size(word, kind)
    if size is None:
        return _refused(text, f"is no {kind}" if kind else "has a unit where none is asked for", unit, measure)
    if _THOUSANDS.fullmatch(one["number"]) and (measure is US or word in _NO_METRIC or _whose(word)):
        return _either_comma(text)
    return Understood(text=text, amount=number if word == unit.lower() else _tidied(number * size / each))


def _feet_and_inches(text: str, both: re.Match[str], unit: str, measure: Measure) -> Understood:
    kind, each = _KINDS.get(unit, ("", 1.0))
    inches = _number(both["inches"])
    if kind != "length" or inches is None:
        return _refused(text, f"is no {kind}" if kind else "is no number", unit, measure)
    if inches >= _INCHES_IN_A_FOOT:
        found = f"{_quoted(text)} has 12 inches or more"
        return Understood(text=text, amount=None, found=found, remedy="Write them as feet")
    length = int(both["feet"]) * FOOT + inches * INCH
    return Understood(text=text, amount=_tidied((-length if both["sign"] == "-" else length) / each))


def _which_gallon(text: str, digits: str, number: float, word: str, unit: str) -> Understood:
    """A gallon is 3.785 L in one country and 4.546 L in another: a person says which."""
    kind, each = _KINDS[unit]
    rate = _RATE.fullmatch(word)
    after = f"/{rate['time']}" if rate else ""
    offers = (f"{digits} imp gal{after}", f"{digits} US gal{after}")
    sizes = [_size(offer.removeprefix(f"{digits} ").lower(), kind) for offer in offers]
    pairs = zip(offers, sizes, strict=True)
    told = [f"{offer} ({grouped(number * size / each)} {unit})" for offer, size in pairs if size]
    if not told:
        return _refused(text, f"is no {kind}", unit, METRIC)
    found, remedy = f"{_quoted(text)} may be either gallon", f"Write {' or '.join(told)}"
    return Understood(text=text, amount=None, found=found, remedy=remedy, offers=offers)


def _either_comma(text: str) -> Understood:
    with_point, without = text.strip().replace(",", "."), text.strip().replace(",", "")
    found, remedy = f"{_quoted(text)} has a comma", f"Write {without} or {with_point}"
    return Understood(text=text, amount=None, found=found, remedy=remedy, offers=(without, with_point))


def _refused(text: str, why: str, unit: str, measure: Measure) -> Understood:
    kind, _ = _KINDS.get(unit, ("", 1.0))
    with told_in(measure):
        called = unit_called(unit)
    remedy = f"Write digits, in {called} or with their unit" if kind else "Write digits alone"
    return Understood(text=text, amount=None, found=f"{_quoted(text)} {why}", remedy=remedy)


def _number(text: str) -> float | None:
    """A number, a fraction, or a whole number and what is over."""
    if "/" not in text:
        return float(text.replace(" ", "").replace(",", "."))
    whole, _, over = text.replace("-", " ").rpartition(" ")
    top, below = over.split("/")
    return (int(whole) if whole else 0) + int(top) / int(below) if int(below) else None


def _spelt_out(word: str) -> str:
    short = _SHORT.fullmatch(word)
    return f"{short['whose']} {_SPELT[short['volume']]}/{_SPELT[short['time']]}".strip() if short else word


def _size(word: str, kind: str) -> float | None:
    """One of a unit in SI; None where the word is none of that kind."""
    if kind == "volume":
        whose = _whose(word)
        return _SIZES["volume"].get(word) if whose is None else IMPERIAL_GALLON if whose == "imp" else US_GALLON
    if kind == "flow":
        rate = _RATE.fullmatch(word)
        volume, time = (_size(rate["volume"], "volume"), _SIZES["time"].get(rate["time"])) if rate else (None, None)
        return volume / time if volume and time else None
    return _SIZES[kind].get(word) if kind else None


def _whose(word: str) -> str | None:
    """Whose gallon the unit names: ``us``, ``imp``, empty for neither; None where it is no gallon."""
    rate = _RATE.fullmatch(word)
    gallon = _GALLON.fullmatch(rate["volume"] if rate else word)
    return None if gallon is None else "us" if gallon[1] else "imp" if gallon[2] else ""


def _tidied(amount: float) -> float:
    """Twelve digits: what binary arithmetic leaves over is not to be written into a job."""
    return float(f"{amount:.12g}")


def _quoted(text: str) -> str:
    return f'"{text.strip()[:20]}"'
