"""What a person types in feet, inches and gallons: held against pint and NIST SP 811, and never guessed.

NIST Special Publication 811 (2008 edition), appendix B.8, "Factors for units listed alphabetically", to the digits
printed there (from memory); pint takes its own from NIST SP 811 and Handbook 44, appendix C.
"""

import re
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.base.words import METRIC, US, Measure, as_typed, told_in, understood, with_own_unit
from beckwright.readings.typed import level, metric_note, staff_reading
from beckwright.web.begin.routes import as_survey, was_typed
from beckwright.web.why.doubts import _unit

NIST = {
    "1 in": ("m", 2.54e-2),
    "1 ft": ("m", 3.048e-1),
    "1 yd": ("m", 9.144e-1),
    "1 imp gal": ("m³", 4.54609e-3),
    "1 US gal": ("m³", 3.785412e-3),
    "1 US gal/min": ("L/s", 6.309020e-2),
    "1 US gal/day": ("L/s", 4.381264e-5),
    "1 ft³": ("m³", 2.831685e-2),
    "1 yd³": ("m³", 7.645549e-1),
}
"""Cubic metres a second are told in litres here: the printed factor times 1000."""
_PINT = {"imp gal": "imperial_gallon", "US gal": "US_liquid_gallon", "L": "liter", "in": "inch", "³": "**3"}


def _pint(words: str) -> str:
    for ours, theirs in _PINT.items():
        words = re.sub(rf"(?<![A-Za-z]){ours}(?![A-Za-z])", theirs, words)
    return words


@pytest.fixture(scope="module")
def registry() -> Any:
    return pint.UnitRegistry()


@pytest.mark.parametrize("words", sorted(NIST))
@pytest.mark.parametrize("measure", list(Measure))
def test_factors_are_those_of_nist(words: str, measure: Measure) -> None:
    unit, amount = NIST[words]
    read = understood(words, unit, measure)
    assert read.amount == pytest.approx(amount, rel=2e-7)


@given(amount=st.floats(0.001, 99_999).map(lambda each: round(each, 3)), row=st.integers(0, 10))
def test_a_number_with_its_unit_is_what_pint_makes_of_it(registry: Any, amount: float, row: int) -> None:
    rows = [
        *[("m", unit) for unit in ("ft", "in", "yd", "mm", "cm")],
        *[("L", unit) for unit in ("US gal", "imp gal", "ft³")],
        *[("L/h", unit) for unit in ("US gal/h", "imp gal/min", "L/s")],
    ]
    metric, unit = rows[row]
    there = registry.Quantity(amount, _pint(unit)).to(_pint(metric)).magnitude
    for measure in Measure:
        assert understood(f"{amount} {unit}", metric, measure).amount == pytest.approx(there, rel=1e-11)


@pytest.mark.parametrize(
    ("text", "unit", "amount"),
    [
        # By hand: 12 ft of 304.8 mm and 6 in of 25.4 mm; 3.5 in; 5.5 ft; half an inch.
        ("12' 6\"", "m", 3.81),
        ("12 ft 6 in", "m", 3.81),
        ("12\u2032 6\u2033", "m", 3.81),
        ("12'-6\"", "m", 3.81),
        ('3 1/2"', "mm", 88.9),
        ("3\u00bd in", "mm", 88.9),
        ("5' 6", "m", 1.6764),
        ("-5' 6\"", "m", -1.6764),
        ("1/2 in", "mm", 12.7),
        ("25 mm", "m", 0.025),
        ("1.2 m", "mm", 1200.0),
        ("1,2 m", "mm", 1200.0),
        ("500 L/h", "L/h", 500.0),
        ("2 lpm", "L/h", 120.0),
        ("5 400 L/h", "L/h", 5400.0),
    ],
)
def test_a_unit_that_is_typed_is_understood_in_either_mode(text: str, unit: str, amount: float) -> None:
    for measure in Measure:
        assert understood(text, unit, measure).amount == amount


def test_a_bare_number_is_in_the_unit_the_label_names() -> None:
    assert understood("12.5", "m", METRIC).amount == 12.5
    assert understood("12.5", "m", US).amount == pytest.approx(12.5 * 0.3048)
    assert understood("3 1/2", "mm", US).amount == pytest.approx(88.9)
    assert understood("100", "L/h", US).amount == pytest.approx(378.5412, rel=1e-6)
    assert understood("12.5", "s", US).amount == 12.5


@pytest.mark.parametrize("text", ["5 gal", "5 gallons", "5gal."])
def test_a_gallon_is_asked_about_but_by_who_reads_us_units(text: str) -> None:
    asked = understood(text, "L", METRIC)
    assert asked.amount is None
    # NIST SP 811, appendix B.8: 5 gallons are 22.73 L or 18.93 L.
    assert "5 imp gal (23 L)" in asked.asked
    assert "5 US gal (19 L)" in asked.asked
    assert [understood(offer, "L", METRIC).amount for offer in asked.offers] == pytest.approx([22.73045, 18.92706])
    assert understood(text, "L", US).amount == pytest.approx(18.92706)


@pytest.mark.parametrize("text", ["130 gph", "130 gal/h", "2 gpm", "130 gallons per hour"])
def test_a_rate_in_gallons_is_asked_about_too(text: str) -> None:
    assert len(understood(text, "L/h", METRIC).offers) == 2
    assert understood(text, "L/h", US).amount is not None


def test_a_comma_before_three_digits_is_asked_about_where_it_may_part_thousands() -> None:
    assert understood("1,400", "L/h", METRIC).amount == 1.4
    assert understood("1,400", "L/h", US).offers == ("1400", "1.400")
    assert understood("1,400 US gal/h", "L/h", METRIC).amount is None
    assert understood("1,4", "L/h", US).amount is not None


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        *[("25 L", "m"), ("3 ft", "L"), ("3 ft", "L/h"), ("5 gal", "L/h"), ("12' 14\"", "m"), ("3 furlongs", "m")],
        *[("1/0", "m"), ("", "m"), ("12 m", "W"), ("1e9", "m"), ("nan", "m"), ("1.2.3", "m"), ("\u0661", "m")],
        ("9" * 60, "m"),
    ],
)
def test_what_is_no_such_amount_is_asked_about_with_an_order(text: str, unit: str) -> None:
    for measure in Measure:
        read = understood(text, unit, measure)
        assert read.amount is None
        assert read.remedy.startswith("Write ")


@given(st.text(max_size=60), st.sampled_from(["m", "mm", "L", "L/h", "W", ""]))
def test_whatever_is_typed_is_an_amount_or_a_question(text: str, unit: str) -> None:
    for measure in Measure:
        read = understood(text, unit, measure)
        assert (read.amount is None) == bool(read.asked)
        assert read.text == text


@given(st.floats(-900, 900).map(lambda each: round(each, 4)))
def test_what_a_field_shows_reads_back_within_half_its_last_digit(metres: float) -> None:
    with told_in(US):
        assert understood(as_typed(metres, "m"), "m").amount == pytest.approx(metres, abs=0.0005 * 0.3048 + 1e-9)
        # A stroke of a tape is 1/8 in, below an inch 1/16.
        assert understood(as_typed(metres, "mm"), "mm").amount == pytest.approx(metres, abs=25.4 / 16 + 1e-9)


def test_a_reading_typed_in_feet_is_kept_as_typed_and_told_with_its_unit() -> None:
    read = staff_reading("4' 3 1/2\"", measure=US)
    assert (read.text, read.asked) == ("4' 3 1/2\"", "")
    # By hand: 51.5 in.
    assert read.amount == pytest.approx(51.5 * 0.0254)
    assert staff_reading("4.25", measure=US).amount == pytest.approx(4.25 * 0.3048)
    assert staff_reading("425", measure=US).meant == "4.25"
    assert level("331.5", 101.0, measure=US).asked == ""
    assert with_own_unit("4.25", "m", US) == "4.25 ft"
    assert with_own_unit("25 mm", "m", US) == "25 mm"
    assert metric_note("4.25", "m", US) == "typed 4.25 ft"
    assert metric_note("1.295", "m", METRIC) == ""


@pytest.mark.parametrize(
    ("key", "unit"),
    [
        *[("source.box_length_mm", "mm"), ("reservoir.length_m", "m"), ("flows.1.leak_resting_l_h", "L/h")],
        *[
            ("materials.edge_stone_kg_m", ""),
            ("reservoir.cover_kn_m3", ""),
            ("site.roof_m2", ""),
            ("course.side_slope", ""),
        ],
    ],
)
def test_a_doubt_is_typed_in_other_units_where_its_key_is_a_length_or_a_flow(key: str, unit: str) -> None:
    assert _unit(key) == unit


def test_points_typed_in_feet_are_a_survey_in_metres_and_kept_as_typed() -> None:
    typed = "id\tx_ft\ty_ft\tz_ft\tcode\nBM\t0\t10\t100' 6\"\tmark\n2\t1.5 m\tmuch\t\t\n"
    assert as_survey(typed) == "id,x_m,y_m,z_m,code\nBM,0,3.048,30.6324,mark\n2,1.5,much,,\n"
    assert was_typed(typed) == {"survey_as_typed.txt": typed}
    assert was_typed("id\tx_m\ty_m\tz_m\tcode\nBM\t0\t10\t100,5\tmark\n") == {}
