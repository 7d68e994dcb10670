"""Every equation of the house can say where it comes from, in which units, and is held against a publication."""

import importlib
import pkgutil
import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pint
import pytest

import beckwright.equations
from beckwright.base.published import REGISTER, Equation
from beckwright.tables.sources import SOURCES

for found in pkgutil.iter_modules(beckwright.equations.__path__):
    importlib.import_module(f"beckwright.equations.{found.name}")

EQUATIONS = [pytest.param(equation, id=name) for name, equation in sorted(REGISTER.items())]

EMPIRICAL = {
    "strickler_n": "a length to the sixth part is set equal to a roughness",
    "rice_riprap_n": "takes the stone size as a number of millimetres",
    "dynamic_viscosity": "a fit to temperature as a number of degrees",
    "water_density": "a fit to temperature as a number of degrees",
    "water_viscosity": "takes the two fits to temperature",
    "gentle_chute_size": "a power of a flow is set equal to a stone size in millimetres",
    "steep_chute_size": "a power of a flow is set equal to a stone size in millimetres",
    "louder_by": "a level in decibels",
    "atmospheric_pressure": "a fit to the height as a number of metres",
    "psychrometric_constant": "its factor stands for 1/K, bare",
    "saturation_pressure": "a fit to temperature as a number of degrees",
    "saturation_slope": "a fit to temperature as a number of degrees",
    "vapour_pressure": "takes the fit to temperature",
    "wind_at_two_metres": "a logarithm of a height as a number of metres",
    "daylight": "seconds of a day stand bare",
    "extraterrestrial_radiation": "the solar constant stands bare",
    "clear_sky_radiation": "takes the height as a number of metres",
    "net_longwave": "a root of a pressure as a number of kilopascals",
    "reference_evapotranspiration": "printed for mm a day, MJ/m2 a day and kPa",
    "drying_power_1956": "printed for mm a day and kPa",
    "drying_power_1948": "printed for mm a day and kPa",
    "open_water_evaporation": "latent heat and density stand bare",
    "mean_saturation": "takes the fit to temperature",
    "radiation_by_range": "a root of a range of temperature as a number of degrees",
    "small_water_evaporation": "a power of an area is set equal to a rate",
}
"""Equations that are not dimensionally sound as printed, and why."""

CONSTANT_UNITS = {"STANDARD_GRAVITY": "m/s2", "WATER_DENSITY": "kg/m3", "HEAD_ADDITION": "m"}
"""Constants that stand in the modules as bare SI numbers."""

UNITS = pint.UnitRegistry()
UNITS.define("currency = [currency]")


def _quantity(amount: float, unit: str) -> Any:
    powers = re.sub(r"([a-z])(\d)", r"\1**\2", unit)
    return UNITS.Quantity(amount, powers.replace("^", "**"))


def _same_dimension(result: Any, unit: str) -> bool:
    """Broken powers such as (1/6) + (1/3) - (1/2) leave 1e-17 of a metre."""
    powers = (UNITS.Quantity(result) / _quantity(1, unit)).dimensionality.values()
    return all(abs(power) < 1e-12 for power in powers)


@contextmanager
def _constants_with_units(equation: Equation) -> Iterator[None]:
    names = equation.function.__globals__
    bare = {name: names[name] for name in CONSTANT_UNITS if name in names}
    names.update({name: _quantity(amount, CONSTANT_UNITS[name]) for name, amount in bare.items()})
    try:
        yield
    finally:
        names.update(bare)


def test_the_register_is_full() -> None:
    """Count by reading: every function of the room that is not private is in the register."""
    room = Path(beckwright.equations.__file__).parent
    written = {name for file in room.glob("*.py") for name in re.findall(r"^def ([a-z]\w+)", file.read_text(), re.M)}
    assert written == set(REGISTER)


@pytest.mark.parametrize("equation", EQUATIONS)
class TestEquation:
    def test_source_and_place(self, equation: Equation) -> None:
        assert equation.source in SOURCES
        assert equation.place

    def test_summary_and_formula(self, equation: Equation) -> None:
        assert equation.summary.endswith(".")
        assert "=" in equation.formula

    def test_symbols(self, equation: Equation) -> None:
        for symbol in equation.symbols:
            assert symbol.letter, symbol.name
            assert symbol.meaning, symbol.name
            assert symbol.unit, symbol.name
        assert equation.unit

    def test_letters_are_told_apart_and_stand_in_the_formula(self, equation: Equation) -> None:
        letters = [symbol.letter for symbol in equation.symbols]
        assert len(set(letters)) == len(letters)
        for letter in letters:
            assert letter in equation.formula

    def test_limits_are_of_its_own_inputs(self, equation: Equation) -> None:
        assert equation.limits.keys() <= {symbol.name for symbol in equation.symbols}
        assert all(low < high for low, high in equation.limits.values())

    def test_exercised_against_a_publication(self, equation: Equation) -> None:
        tests = (Path(__file__).parent.parent / "sources").glob("test_*.py")
        assert any(re.search(rf"\b{equation.name}\(", file.read_text()) for file in tests)


@pytest.mark.parametrize("name", sorted(REGISTER.keys() - EMPIRICAL.keys()))
def test_dimensions(name: str) -> None:
    equation = REGISTER[name]
    inputs = {symbol.name: _quantity(0.7 + 0.01 * i, symbol.unit) for i, symbol in enumerate(equation.symbols)}
    with _constants_with_units(equation):
        result = equation.function(**inputs)
    assert _same_dimension(result, equation.unit)


def test_empirical_equations_are_really_unsound() -> None:
    """The list above must not hide an equation whose dimensions could be checked."""
    for name in EMPIRICAL.keys() - {"water_viscosity", "vapour_pressure"}:
        equation = REGISTER[name]
        inputs = {symbol.name: _quantity(0.7, symbol.unit) for symbol in equation.symbols}
        with pytest.raises((pint.PintError, AssertionError)):
            assert _same_dimension(equation.function(**inputs), equation.unit)
