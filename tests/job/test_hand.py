"""The examples as read against the hand calculation beside each of them (HAND.md)."""

import re
from math import dist
from pathlib import Path

import pytest

from beckwright.job.model import Job, Pool, Run
from beckwright.job.read import read_job
from beckwright.tables.fittings import FITTINGS

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("larkspur_court", "hazel_bank", "fennymoor_park", "withy_lane")


def hand(name: str) -> dict[str, str]:
    """Values of the hand calculation by key, as written."""
    rows = re.findall(r"^\| ([\w.]+) \| ([^|]+) \|", (EXAMPLES / name / "HAND.md").read_text(), re.MULTILINE)
    keys = [key for key, _ in rows if key != "key"]
    assert len(keys) == len(set(keys)), "a key stands once"
    return {key: written for key, written in rows if key != "key"}


def number(written: str) -> float:
    found = re.match(r"[−-]?[\d.]+", written)
    assert found, written
    return float(found[0].replace("−", "-"))


@pytest.fixture(params=NAMES)
def pair(request: pytest.FixtureRequest) -> tuple[Job, dict[str, str]]:
    return read_job(EXAMPLES / request.param), hand(request.param)


def test_course(pair: tuple[Job, dict[str, str]]) -> None:
    job, by_hand = pair
    reaches = job.course.reaches
    assert sum(reach.length for reach in reaches if isinstance(reach, Run | Pool)) == pytest.approx(
        number(by_hand["course.length"])
    )
    chords = sum(dist(one, other) for one, other in zip(job.course.line, job.course.line[1:], strict=False))
    assert chords == pytest.approx(number(by_hand["course.chords"]), abs=0.005)
    assert job.course.end == pytest.approx(number(by_hand["course.end"]))


def test_levels(pair: tuple[Job, dict[str, str]]) -> None:
    job, by_hand = pair
    pit = job.reservoir
    floor = pit.cover - pit.cover_depth - pit.fill_depth
    assert job.source.hose_outlet == pytest.approx(number(by_hand["supply.outlet"]))
    assert pit.overflow == pytest.approx(number(by_hand["reservoir.overflow"]))
    assert floor == pytest.approx(number(by_hand["reservoir.floor"]))
    assert floor - pit.sump + pit.pump_depth == pytest.approx(number(by_hand["reservoir.pump_minimum"]))


def test_hose(pair: tuple[Job, dict[str, str]]) -> None:
    job, by_hand = pair
    assert job.route.chosen.bore**2 * 3.14159265 / 4 == pytest.approx(number(by_hand["hose.area"]) * 1e-4, rel=1e-4)
    assert sum(FITTINGS[name].amount * count for name, count in job.route.fittings) == pytest.approx(
        number(by_hand["hose.fittings"])
    )


def test_running_and_climate(pair: tuple[Job, dict[str, str]]) -> None:
    job, by_hand = pair
    for flow in {row.flow for row in job.running}:
        hours = sum(row.time for row in job.running if row.flow == flow) / 3600
        assert hours == pytest.approx(number(by_hand[f"running.hours.{flow.replace(' ', '_')}"]), abs=0.06)
    assert job.climate is not None
    if "climate.rain" in by_hand:
        assert job.climate.rain.sum() * 1000 == pytest.approx(number(by_hand["climate.rain"]))
        assert job.climate.evaporation.sum() * 1000 == pytest.approx(number(by_hand["climate.evaporation"]))
        summer = (job.climate.evaporation - job.climate.rain)[5:8].sum() * 1000
        assert summer == pytest.approx(number(by_hand["climate.summer_deficit"]))
