"""Numbers in the reader's units: exact factors, bands that promise no more, and no metric unit left for a US reader."""

import json
import math
import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from typer.testing import CliRunner

from beckwright import Design, design, read_job
from beckwright.base import words
from beckwright.base.words import METRIC, US, told_in
from beckwright.base.words.measures import _US
from beckwright.cli.commands import app
from beckwright.compose import Works
from beckwright.papers import draw_sheets
from beckwright.papers.drawing import A3_FLAT, Sheet, Text, plain, seen
from beckwright.papers.handed_over import exchange_files, hand_over
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.shared.frame import HIGH, LEFT, LOW, WIDE
from beckwright.web.units import units_asked, units_said

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("withy_lane", "hazel_bank", "larkspur_court", "fennymoor_park")

_PINT = {
    "°C": "degC",
    "US gal": "US_liquid_gallon",
    "US gal/h": "US_liquid_gallon/hour",
    "US gal/min": "US_liquid_gallon/minute",
    "US tons": "short_ton",
    "°F": "degF",
    "oz": "avoirdupois_ounce",
    "lbf": "force_pound",
    "lbf/ft": "force_pound/foot",
    "lbf/ft²": "force_pound/foot**2",
    "lbf/ft³": "force_pound/foot**3",
    "t": "metric_ton",
    "s/ft^(1/3)": "second/foot**(1/3)",
    "s/m^(1/3)": "second/meter**(1/3)",
}


def _pint(unit: str) -> str:
    return _PINT.get(
        unit, re.sub(r"\bin\b", "inch", unit.replace("²", "**2").replace("³", "**3")).replace("L", "liter")
    )


@pytest.mark.parametrize("unit", sorted(_US))
def test_factors_are_those_of_pint(unit: str) -> None:
    """Pint 0.24 and later take theirs from NIST SP 811 and Handbook 44, appendix C."""
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    other = _US[unit]
    for amount in (0.0, 1.0, 37.5):
        expected = registry.Quantity(amount, _pint(unit)).to(_pint(other.name)).magnitude
        assert amount * other.times + other.more == pytest.approx(expected, rel=1e-9, abs=1e-9)


def test_factors_as_they_are_printed() -> None:
    """NIST SP 811 (2008), B.8, to the digits printed there: 3.785 412 E+00 L a gallon, 6.894 757 E+00 kPa a psi."""
    assert 1 / _US["L"].times == pytest.approx(3.785412, abs=5e-7)
    assert 1 / _US["kPa"].times == pytest.approx(6.894757, abs=5e-7)
    assert 1 / _US["kg"].times == 0.45359237
    assert 1 / _US["t"].times == pytest.approx(0.9071847, abs=5e-8)
    assert 1 / _US["m³"].times == pytest.approx(0.7645549, abs=5e-8)


_NUMBER = re.compile(r"(\u2212?)(?:(?:([\d\u2009]+) )?(\d+)/(\d+)|([\d\u2009]+(?:\.\d+)?))")


def _read(told: str) -> list[float]:
    """Numbers of a band as a person reads them: 2 3/8 is two inches and three eighths."""
    read = []
    for sign, inches, upper, lower, whole in _NUMBER.findall(told):
        number = float((inches or whole or "0").replace("\u2009", ""))
        number += float(upper) / float(lower) if upper else 0.0
        read.append(-number if sign else number)
    return read


@given(
    ends=st.tuples(st.floats(-2000, 9000), st.floats(0.001, 2000)),
    unit=st.sampled_from(["mm", "m", "L", "L/h", "m³", "kPa", "t", "cm²", "%"]),
    step=st.sampled_from([0.005, 0.01, 0.1, 0.5, 1.0, 5.0, 10.0, 100.0]),
)
def test_a_band_never_promises_more_than_was_computed(ends: tuple[float, float], unit: str, step: float) -> None:
    low, high = ends[0], ends[0] + ends[1]
    with told_in(US):
        for told in (words.band(low, high, step, unit), words.outward(low, high, step, unit)):
            number = told.removesuffix(f" {words.unit_called(unit)}")
            read = _read(number)
            times = _US[unit].times if unit in _US else 1.0
            close = 1e-8 * max(step * times, 1.0 / 16, abs(high) * times)
            assert read[0] <= low * times + close, told
            assert read[-1] >= high * times - close, told
            assert len(read) in (1, 2), told


@given(length=st.floats(0.0005, 50))
def test_what_is_asked_for_is_never_told_smaller(length: float) -> None:
    with told_in(US):
        told = words.millimetres(length, up=True).removesuffix(" in")
    assert _read(told)[0] >= length * 1000 / 25.4 - 1e-6


def test_a_reader_of_metres_sees_what_he_saw() -> None:
    assert words.millimetres(0.06) == "60 mm"
    assert words.metres(101.234) == "101.23 m"
    assert words.flow(9000 / 3.6e6) == "9\u2009000 L/h"
    assert words.retold("Keep [1 m] off, [10 to 20 mm] deep") == "Keep 1 m off, 10 to 20 mm deep"
    assert words.bore(0.0381) == "38 mm (1.50 in)"


def test_a_us_reader_reads_feet_tape_and_gallons_by_name() -> None:
    """By hand: 60 mm is 2.362 in, nearest eighth 2 3/8; 9 000 L/h is 2 377.5 US gal/h; 101.234 m is 332.13 ft."""
    with told_in(US):
        assert words.millimetres(0.06) == "2 3/8 in"
        assert words.millimetres(0.012) == "1/2 in"
        assert words.metres(101.234) == "332.13 ft"
        assert words.flow(9000 / 3.6e6) == "2\u2009380 US gal/h"
        assert words.band(8600 / 3.6e6, 9401 / 3.6e6, 100, "L/h", scale=3.6e6) == "2\u2009260 to 2\u2009500 US gal/h"
        assert words.quantity(20.0, "degC") == "68 °F"
        assert words.both(0.002153, "m3/s") == "0.002153 m³/s (0.07603 ft³/s)"
        assert words.retold("Keep [1 m] off") == "Keep 3.28 ft off"
    assert words.reads() is METRIC


def test_the_choice_ends_where_it_was_made() -> None:
    with told_in(US):
        with told_in(METRIC):
            assert words.metres(1.0) == "1.00 m"
        assert words.metres(1.0) == "3.28 ft"
    assert words.metres(1.0) == "1.00 m"


METRIC_UNIT = re.compile(
    r"(?:(?<=[\d.] )|(?<=, )|(?<=± )|(?<=\ba )|^)"
    r"(?:mm|cm|m|m²|m³|cm²|L/h|L/s|L/min|kg|t|°C|kPa|Pa|kN|kN/m²|m/s|m³/s|kg/m|kg/m²|kg/m³|m2|m3|m³/h)(?=[ ,;:.)/]|$)"
    r"|(?<=\d )L(?=[ ,;:.)/]|$)"
    r"|\b(?:metres?|millimetres?|litres?|tonnes?|kilograms?|centimetres?)\b"
)
AS_WRITTEN = (
    # What the job itself says in a sentence is nobody's to change.
    *(
        r"Badger sett",
        r"Winter 1",
        r"Lining joined by overlap",
        r"^m, planting",
        r"Side path",
        r"^Open to the",
        r"To be heard",
        r"neighbour's bedroom",
    ),
    # When it runs, in the words of whoever wrote it.
    r"off below -3 °C",
    *(r"Everything goes through", r"0\.18 m each", r"The side passage", r"Bedroom window", r"soakaway 6 m"),
    # Classes of machines are names: a digger of 1.5 t is hired by that word.
    r"digger of [\d.]+ t",
    # Two letters of the setting out, not litres.
    r"\bpeg",
)
"""What may stay, with the reason; besides, every ``source``: it quotes its publication."""


@pytest.fixture(scope="module", params=NAMES)
def told(request: pytest.FixtureRequest) -> tuple[Design, Works, tuple[Sheet, ...]]:
    with told_in(US):
        designed = design(read_job(EXAMPLES / request.param))
        works = Works(designed)
        assert works.findings
        return designed, works, draw_sheets(designed, works)


def _texts(sheet: Sheet) -> Iterator[Text]:
    for mark in sheet.marks:
        yield from (part for part in plain(mark) if isinstance(part, Text))


def _left(text: str) -> bool:
    return bool(METRIC_UNIT.search(text)) and not any(re.search(written, text) for written in AS_WRITTEN)


def test_no_metric_unit_is_left_on_a_sheet(told: tuple[Design, Works, tuple[Sheet, ...]]) -> None:
    """But for the figures of the calculation: they are worked in SI as their equations were published, US beside it."""
    for sheet in told[2]:
        if sheet.name.startswith("calculation-") and sheet.name != "calculation-1":
            continue
        said = {text.words for text in _texts(sheet)} | {sheet.description, sheet.title}
        said |= {part.words for view in sheet.views for part in seen(view) if isinstance(part, Text)}
        assert not [text for text in said if _left(text)], sheet.name


def test_no_metric_unit_is_left_in_a_finding(told: tuple[Design, Works, tuple[Sheet, ...]]) -> None:
    for finding in (*told[0].findings, *told[1].findings):
        assert not _left(f"{finding.place}. {finding.says} {finding.cure}"), finding


def test_labels_fit_in_feet_and_inches(told: tuple[Design, Works, tuple[Sheet, ...]]) -> None:
    """As tests/papers/test_sheets.py has it for metres: a touch of 0.6 mm is allowed."""
    for sheet in told[2]:
        texts = list(_texts(sheet))
        boxes = np.array([(*text_box(text).min(axis=0), *text_box(text).max(axis=0)) for text in texts]) + (
            np.array([[text.halo, text.halo, -text.halo, -text.halo] for text in texts])
        )
        rim = (LEFT, LOW, LEFT + WIDE, LOW + HIGH) if sheet.paper == A3_FLAT else (5, 5, *np.array(sheet.paper) - 5)
        inside = (boxes[:, :2] >= np.array(rim[:2]) - 0.3).all() and (boxes[:, 2:] <= np.array(rim[2:]) + 0.3).all()
        assert inside, sheet.name
        wide = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
        tall = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
        clash = np.argwhere(np.triu((wide > 0.3) & (tall > 0.6), 1))
        assert not len(clash), (sheet.name, [(texts[i].words, texts[j].words) for i, j in clash[:5]])


def test_what_other_programs_read_stays_metric(told: tuple[Design, Works, tuple[Sheet, ...]]) -> None:
    designed, works, _ = told

    def read() -> dict[str, bytes]:
        return exchange_files(hand_over(designed, works.groundwork, works.setting_out))

    with told_in(METRIC):
        metric = read()
    with told_in(US):
        assert read() == metric


def _run(*asked: str) -> str:
    return CliRunner().invoke(app, asked).stdout


def test_a_command_is_told_which_units() -> None:
    hazel = str(EXAMPLES / "hazel_bank")
    assert "US gal/h" in _run("figures", hazel, "--ten", "--units", "us")
    assert "L/h" in _run("figures", hazel, "--ten")
    us, metric = (json.loads(_run("figures", hazel, "--json", "--units", units)) for units in ("us", "metric"))
    assert [each["amount"] for each in us] == [each["amount"] for each in metric], "JSON stays SI"
    assert words.reads() is METRIC, "what a command chose ends with it"


def test_a_job_says_its_own_units(tmp_path: Path) -> None:
    folder = tmp_path / "job"
    CliRunner().invoke(app, ["new", str(folder)])
    text = (folder / "job.toml").read_text()
    (folder / "job.toml").write_text(text.replace('units = "metric"', 'units = "us"'))
    assert read_job(folder).title.units is US
    assert "US gal/h" in _run("figures", str(folder), "--ten")
    assert "L/h" in _run("figures", str(folder), "--ten", "--units", "metric")


def test_gallons_alone_are_no_choice(tmp_path: Path) -> None:
    """A gallon is never guessed: a job that says another word is refused, and the words there are are named."""
    folder = tmp_path / "job"
    CliRunner().invoke(app, ["new", str(folder)])
    text = (folder / "job.toml").read_text()
    (folder / "job.toml").write_text(text.replace('units = "metric"', 'units = "gallons"'))
    asked = CliRunner().invoke(app, ["check", str(folder)])
    assert asked.exit_code == 2
    assert "metric" in asked.stderr
    assert "us" in asked.stderr


def test_a_browser_chooses_by_address_then_cookie_then_job() -> None:
    def scope(query: str, cookie: str) -> dict[str, object]:
        headers = [(b"cookie", cookie.encode())] if cookie else []
        return {"type": "http", "query_string": query.encode(), "headers": headers}

    assert units_asked(scope("units=us", "beckwright_units=metric")) is US
    assert units_asked(scope("", "beckwright_units=us")) is US
    assert units_asked(scope("units=gallons", "")) is None
    assert units_said('[job]\nunits = "us"\n') is US
    assert units_said("job = 3") is METRIC
    assert units_said("[job") is METRIC
    assert math.isfinite(words.one_unit("m"))
