"""An amount with its unit, told with as many digits as its metric form has: ``f"{with_unit(area, 'm²'):.1f}"``.

What is told in US units is never coarser than what is told in metric ones, but for lengths in inches: those are read
off a tape, in eighths from one inch up and in sixteenths below it.
"""

import math
import re

from beckwright.base.words.measures import Customary, customary

THIN = "\u2009"
"""Between thousands."""

_SPEC = re.compile(r"(?P<grouped>,?)(?:\.(?P<digits>\d+))?(?P<kind>[fg])")
_QUARTER, _EIGHTH, _SIXTEENTH = 0.25, 0.125, 0.0625
_CLOSE = 1e-9
_SAID_DIGITS = 3
_SAID = re.compile(r"\[([^\]\[]*?) (\S+)\]")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


def grouped(number: float, decimals: int = 0) -> str:
    """A number with thin spaces between its thousands."""
    written = f"{number:,.{decimals}f}"
    # What rounds to nothing has no sign.
    signed = written if any(digit in written for digit in "123456789") else written.lstrip("-")
    return signed.replace(",", THIN).replace("-", "\u2212")


def fraction(length: float, step: float) -> str:
    """A length that is a multiple of ``step``, in whole inches and what is over: ``"2 3/8"``, without its unit."""
    parts = round(1 / step)
    whole, over = divmod(round(abs(length) * parts), parts)
    sign = "\u2212" if length < 0 and (whole or over) else ""
    if not over:
        return f"{sign}{grouped(whole)}"
    shared = math.gcd(over, parts)
    return f"{sign}{f'{grouped(whole)} ' if whole else ''}{over // shared}/{parts // shared}"


def eighths(inches: float) -> float:
    """How finely a length is read off a tape: to an eighth of an inch, below one inch to a sixteenth."""
    return _EIGHTH if abs(inches) >= 1 else _SIXTEENTH


def tape_inches(inches: float) -> str:
    """A length in inches to the nearest stroke of a tape, without its unit."""
    step = eighths(inches)
    return fraction(round(inches / step) * step, step)


def decimals_for(step: float) -> int:
    """Decimals that show a step without making it coarser."""
    return max(0, math.ceil(-math.log10(step) - _CLOSE))


class Amount:
    """A number of a metric unit, told in the reader's by the format of its metric form, such as ``.1f`` or ``,.0f``.

    A comma asks for thin spaces between thousands and a true minus; ``g`` for as few digits as there are.
    """

    __slots__ = ("amount", "bare", "unit", "up")

    def __init__(self, amount: float, unit: str, *, bare: bool = False, up: bool = False) -> None:
        self.amount, self.unit, self.bare, self.up = float(amount), unit, bare, up

    def __format__(self, spec: str) -> str:
        other = customary(self.unit)
        if other is None:
            return self._with(_formatted(self.amount, spec), self.unit)
        return self._with(_in_us(self, other, spec), other.name)

    def _with(self, number: str, unit: str) -> str:
        return number if self.bare else f"{number} {unit}"


_BROKEN = re.compile(r"(?<=\d) (?=\d+/\d+)")


def whole_words(text: str) -> list[str]:
    """The words of a text, where lines may break: 2 3/8 is one of them, and no line may begin with its 3/8."""
    # Only at plain white space: the thin space within 1 350 is no place to break a line at either.
    return [word.replace("\x1f", " ") for word in re.split(r"[ \t\n]+", held_together(text, "\x1f")) if word]


def held_together(text: str, by: str) -> str:
    """A text whose mixed numbers are held together by a character at which no line breaks."""
    return _BROKEN.sub(by, text)


def with_unit(amount: float, unit: str, *, up: bool = False) -> Amount:
    """An amount to stand in words, with its unit: the format after the colon is that of its metric form.

    up  what is asked for was rounded up already: in other units it is never told smaller than that
    """
    return Amount(amount, unit, up=up)


def number_in(amount: float, unit: str) -> Amount:
    """An amount to stand below a head that has its unit."""
    return Amount(amount, unit, bare=True)


def retold(text: str) -> str:
    """Words with their amounts in square brackets told in the reader's units: ``"No closer than [1 m]."``.

    Numbers of one unit may stand together: ``[10 to 20 mm]``. Told to three digits: such a number is mostly a limit.
    """
    return _SAID.sub(_one_said, text) if "[" in text else text


def _one_said(match: re.Match[str]) -> str:
    numbers, unit = match.groups()
    other = customary(unit)
    if other is None:
        return f"{numbers} {unit}"
    return f"{_NUMBER.sub(lambda number: _said(float(number[0]), other), numbers)} {other.name}"


def _said(number: float, other: Customary) -> str:
    amount = number * other.times + other.more
    if other.name == "in":
        # Two such numbers side by side must not become one stroke of a tape.
        return tape_inches(amount) if amount >= _QUARTER else f"{amount:.2g}"
    # To three digits, and never to fewer than the number before the point has.
    digits = max(0, _SAID_DIGITS - 1 - math.floor(math.log10(abs(amount)))) if amount else 0
    digits = min(digits, 2) if other.name == "ft" else digits
    written = grouped(amount, digits)
    return written.rstrip("0").rstrip(".") if "." in written else written


def _formatted(amount: float, spec: str) -> str:
    if not spec.startswith(","):
        return f"{amount:{spec}}"
    return grouped(amount, int(spec[2:-1]) if spec.startswith(",.") else 0)


def _in_us(told: Amount, other: Customary, spec: str) -> str:
    asked = _SPEC.fullmatch(spec)
    if asked is None:
        message = f"an amount is told by a format such as .1f, ,.0f or g, not {spec!r}"
        raise ValueError(message)
    there = told.amount * other.times + other.more
    if not math.isfinite(there):
        return f"{there:{spec.lstrip(',')}}"
    if asked["kind"] == "g":
        return _few(there, told.unit)
    digits = int(asked["digits"] or 0)
    if told.unit == "mm" and digits == 0:
        return tape_inches(_next_up(there, eighths(there)) if told.up else there)
    decimals = decimals_for(10.0**-digits * other.times)
    there = _next_up(there, 10.0**-decimals) if told.up else there
    return grouped(there, decimals) if asked["grouped"] else f"{there:.{decimals}f}"


def _next_up(amount: float, step: float) -> float:
    return math.ceil(amount / step - _CLOSE) * step


def _few(amount: float, unit: str) -> str:
    """As few digits as tell it: what is sold by the millimetre is told to a thousandth of an inch."""
    return f"{amount:.3f}".rstrip("0").rstrip(".") if unit == "mm" else f"{amount:.3g}"
