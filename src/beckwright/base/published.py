"""Every equation of the house says where it was published, at the function itself.

``@published`` wraps a plain function without changing it and keeps a register. The register prints the sources
page and the calculation sheet, and lets the tests ask each equation for its source, its units and its limits.
"""

import inspect
import re
from collections.abc import Callable, Mapping
from enum import Enum
from functools import cached_property
from typing import Any, get_type_hints

from beckwright.base.quantities import FloatArray

Limits = tuple[float, float]


class Grade(Enum):
    """How sure a number is. The word is what sheets print."""

    MEASURED = "measured here"
    PUBLISHED = "published"
    PRACTICE = "common practice"
    ASSUMED = "assumed"


class Symbol:
    """One symbol of an equation: its name in the code, its letter in print, its meaning, its unit."""

    __slots__ = ("letter", "meaning", "name", "unit")

    def __init__(self, *, name: str, letter: str, meaning: str, unit: str) -> None:
        self.name, self.letter, self.meaning, self.unit = name, letter, meaning, unit


class Equation:
    """A published formula: call it with floats, or ``over`` arrays. Arithmetic only, no branches inside."""

    def __init__(
        self, function: Callable[..., float], *, source: str, place: str, grade: Grade, limits: Mapping[str, Limits]
    ) -> None:
        self.function, self.source, self.place, self.grade, self.limits = function, source, place, grade, dict(limits)
        # Asked some thousand times while a point is dragged by one step: the function itself, with nothing around it.
        self.over: Callable[..., FloatArray] = function  # type: ignore[assignment]
        self.name = function.__name__
        self.__doc__ = function.__doc__
        self.__module__ = function.__module__

    def __call__(self, *args: float, **inputs: float) -> float:
        """Evaluate for one set of inputs."""
        return self.function(*args, **inputs)

    @cached_property
    def summary(self) -> str:
        """The first line of the docstring."""
        return inspect.getdoc(self.function).strip().splitlines()[0]  # type: ignore[union-attr]

    @cached_property
    def formula(self) -> str:
        """The formula as printed, from the docstring's double back-quotes."""
        found = re.search(r"``(.+?)``", inspect.getdoc(self.function) or "", re.DOTALL)
        return " ".join(found[1].split()) if found else ""

    @cached_property
    def symbols(self) -> tuple[Symbol, ...]:
        """The inputs in the order of the signature; missing docstring rows leave the letter empty."""
        hints = get_type_hints(self.function, include_extras=True)
        rows = {
            row[1]: (row[2], row[3])
            for row in re.finditer(r"^(\w+) {2,}(\S+) {2,}(.+)$", inspect.getdoc(self.function) or "", re.MULTILINE)
        }
        return tuple(
            Symbol(
                name=name,
                letter=rows.get(name, ("", ""))[0],
                meaning=rows.get(name, ("", ""))[1],
                unit=_unit(hints[name]),
            )
            for name in inspect.signature(self.function).parameters
        )

    @cached_property
    def unit(self) -> str:
        """SI unit of the result."""
        return _unit(get_type_hints(self.function, include_extras=True)["return"])

    def outside(self, **inputs: float) -> tuple[str, ...]:
        """Names of the inputs that lie outside the limits the source tested."""
        return tuple(name for name, (low, high) in self.limits.items() if not low <= inputs[name] <= high)

    def __repr__(self) -> str:
        return f"<equation {self.name} ({self.source})>"


REGISTER: dict[str, Equation] = {}


def published(
    *, source: str, place: str, grade: Grade = Grade.PUBLISHED, **limits: Limits
) -> Callable[[Callable[..., float]], Equation]:
    """Say where an equation comes from.

    source  key of a row in ``tables/sources.py``
    place   equation number, table or page in that source
    limits  for a parameter, the range the source tested
    """

    def keep(function: Callable[..., float]) -> Equation:
        equation = Equation(function, source=source, place=place, grade=grade, limits=limits)
        if equation.name in REGISTER:
            message = f"two equations are called {equation.name}"
            raise ValueError(message)
        REGISTER[equation.name] = equation
        return equation

    return keep


def _unit(hint: Any) -> str:
    return str(hint.__metadata__[0])
