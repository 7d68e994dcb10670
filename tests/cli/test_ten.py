"""The ten figures that matter, on the example jobs; expected values by hand from the numbers in their files."""

from dataclasses import replace
from pathlib import Path

import pytest

from beckwright.base.words import THIN
from beckwright.compose import Design, design
from beckwright.figures.make import largest_flow, main_flow
from beckwright.figures.ten import ten_that_matter
from beckwright.job.read import read_job

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture(scope="module")
def hazel() -> Design:
    return design(read_job(EXAMPLES / "hazel_bank"))


@pytest.mark.parametrize(
    "folder", sorted(path for path in EXAMPLES.iterdir() if path.is_dir()), ids=lambda path: path.name
)
def test_there_are_ten_and_each_says_something(folder: Path) -> None:
    ten = ten_that_matter(design(read_job(folder)))
    assert len({label for label, _ in ten}) == 10
    assert all(text for _, text in ten)


def test_main_and_largest_flow(hazel: Design) -> None:
    # By hand from job.toml: everyday runs 2 330 h a year, full 411 h; party is the largest, 12 000 L/h.
    assert (main_flow(hazel.job), largest_flow(hazel.job)) == ("everyday", "party")
    assert main_flow(replace(hazel.job, running=())) == "party"


def test_water_the_pump_may_use(hazel: Design) -> None:
    # By hand: 2.40 x 1.60 m; crates 98.69 (pump's least) to 99.41 at 0.95, stones 99.41 to 99.46 at 0.40: 2.703 m3.
    assert dict(ten_that_matter(hazel))["Water the pump may use"] == f"2{THIN}700 L"


def test_flow_flat_out_is_the_band_of_the_finding(hazel: Design) -> None:
    ten = dict(ten_that_matter(hazel))
    finding = next(finding for finding in hazel.findings if finding.code == "pump-too-small")
    assert ten["Flow with the pump flat out"] in finding.says


def test_a_reservoir_that_runs_dry_says_how_much_is_missing() -> None:
    dry = design(read_job(EXAMPLES / "withy_lane"))
    text = dict(ten_that_matter(dry))["Lowest level after a morning start"]
    finding = next(finding for finding in dry.findings if finding.code == "runs-dry-at-start")
    missing = text.removeprefix("the pump runs dry: ").partition(" short")[0]
    assert f"{missing} short" in finding.says


def test_what_nobody_gave_is_said(hazel: Design) -> None:
    job = replace(hazel.job, climate=None, prices=replace(hazel.job.prices, energy=None))
    texts = [text for _, text in ten_that_matter(design(job, hazel.ground))]
    assert "not known: the job names no climate station" in texts
    assert texts[-1].endswith("no price given")


def test_a_pump_that_cannot_lift_the_water_is_said(hazel: Design) -> None:
    source = replace(hazel.job.source, hose_outlet=hazel.job.source.hose_outlet + 100)
    ten = ten_that_matter(design(replace(hazel.job, source=source), hazel.ground))
    assert ten[0][1] == "none: this pump cannot lift the water to the source"
    assert ten[-1][1] == "this pump cannot give it; no year can be told"
