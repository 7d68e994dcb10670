"""Bad input and bad reservoirs: a clear error or a film that tells, never a hang or a number that is none."""

from dataclasses import replace

import numpy as np
import pytest

from beckwright.base.errors import JobError
from beckwright.base.findings import Severity
from beckwright.compose import Design, design
from beckwright.film import film, film_band, film_findings, film_set
from beckwright.film import march as marching
from beckwright.film.values import NEVER

from .streams import BARE, one_run, straight_design


def test_everything_wrong_is_told_at_once(hazel: Design) -> None:
    with pytest.raises(JobError) as told:
        film(hazel, "flood", end=7, cell=0.0, tolerance=float("nan"), missing=-1.0)  # type: ignore[arg-type]
    assert len(told.value.problems) == 5
    assert "first fill, restart, stop, change" in str(told.value)


def test_a_flow_nobody_named(hazel: Design) -> None:
    with pytest.raises(JobError, match="trickle, everyday, full, party, flat out"):
        film(hazel, "restart", "torrent")


def test_a_change_says_what_comes_then(hazel: Design) -> None:
    with pytest.raises(JobError, match="says what flow comes then"):
        film(hazel, "change", "full")
    with pytest.raises(JobError, match="says what flow comes then"):
        film(hazel, "restart", "full", then="everyday")


def test_more_water_missing_than_there_is(withy: Design) -> None:
    with pytest.raises(JobError, match="missing"):
        film(withy, "restart", missing=10.0)


def test_a_run_without_fall(hazel: Design) -> None:
    """The job's own checks refuse it too; a film of a design made by hand does as well."""
    level = replace(
        hazel.water.runs[0], stretch=replace(hazel.water.runs[0].stretch, bed_end=hazel.water.runs[0].stretch.bed_start)
    )
    flat = replace(hazel, water=replace(hazel.water, runs=(level, *hazel.water.runs[1:])))
    with pytest.raises(JobError, match="no fall"):
        film(flat, "restart")


def test_progress_may_stop_it(hazel: Design) -> None:
    class Enough(Exception):  # noqa: N818
        pass

    told: list[float] = []

    def watch(seconds: float) -> None:
        told.append(seconds)
        if seconds > 100:
            raise Enough

    with pytest.raises(Enough):
        film(hazel, "first fill", progress=watch)
    assert told == sorted(told)
    assert len(told) > 2


def test_too_many_steps_is_an_error_that_says_where(hazel: Design, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(marching, "STEPS_AT_MOST", 40)
    with pytest.raises(ArithmeticError, match=r"more than 40 steps; it had come to \d"):
        film(hazel, "first fill")


def _with(base: Design, **changes: object) -> Design:
    return design(replace(base.job, reservoir=replace(base.job.reservoir, **changes)))  # type: ignore[arg-type]


def test_a_reservoir_below_the_pumps_least_does_not_start(hazel: Design) -> None:
    low = _with(hazel, rested=hazel.reservoir.pit.pump_minimum - 0.05)
    taken = film(low, "restart", "full")
    assert taken.cut_outs[0] == 0.0
    assert taken.back_half == NEVER
    said = film_findings(low, film_band(low, "restart", "full"))
    assert any(finding.code == "film-runs-dry" and "does not start" in finding.says for finding in said)


def test_a_pump_that_cannot_lift_the_water(hazel: Design) -> None:
    high = design(replace(hazel.job, source=replace(hazel.job.source, hose_outlet=hazel.job.source.hose_outlet + 9)))
    taken = film(high, "first fill", "full")
    assert taken.ended == "stalls"
    assert taken.pumped.max() == 0.0
    said = film_findings(high, (taken,))
    assert any(finding.code == "film-stalls" and finding.severity is Severity.FAIL for finding in said)


def test_an_absurd_flow_is_what_the_pump_gives(hazel: Design) -> None:
    flows = (*hazel.job.flows, replace(hazel.job.flows[0], name="absurd", flow=50.0))
    wild = design(replace(hazel.job, flows=flows))
    taken, flat = film(wild, "restart", "absurd"), film(hazel, "restart", "flat out")
    assert taken.borrowed == pytest.approx(flat.borrowed, rel=1e-9)


def test_a_slowed_pump_stalls_at_a_first_fill(hazel: Design) -> None:
    """0.72 of full speed: 0.72**2 of 4.8 m is 2.49 m; the outlet stands at 101.75, so it lifts nothing below 99.26."""
    taken = film(hazel, "first fill", "trickle")
    speed = next(given.duty.speed for given in hazel.supply.chosen.flows if given.name == "trickle" and given.duty)
    assert taken.ended == "stalls"
    assert taken.stall == pytest.approx(101.75 - 4.8 * speed**2, abs=1e-6)
    assert taken.lowest >= taken.stall
    said = film_findings(hazel, (taken,))
    assert any("lifts nothing" in finding.says for finding in said)


def test_withy_lane_is_told_as_its_owner_knows_it(withy: Design) -> None:
    """The pump draws air, and the lawn is wet after each stop: both, with what cures them."""
    said = {finding.code: finding for finding in reversed(film_findings(withy, film_set(withy)))}
    assert said["film-runs-dry"].severity is Severity.FAIL
    assert "55 s to 56 s" in said["film-runs-dry"].says
    assert "had to come from a tap" in said["film-overflows-at-stop"].says
    for finding in said.values():
        assert str(finding)[-1] == "."


def test_the_cure_cures(withy: Design) -> None:
    """A pit longer by what the finding orders no longer runs dry, at any end of the band."""
    finding = next(f for f in film_findings(withy, film_band(withy, "restart")) if f.code == "film-runs-dry")
    longer = float(finding.cure.split("a pit ")[1].split(" m")[0])
    length = withy.job.reservoir.length
    assert not any(each.runs_dry for each in film_band(withy, "restart", larger=(length + longer) / length))


def test_the_float_level_cures(hazel: Design) -> None:
    """Kept at the level the finding names while it runs, nothing goes over at the stop."""
    finding = next(f for f in film_findings(hazel, film_band(hazel, "stop", topped_up=True)) if f.code == "float-level")
    level = hazel.reservoir.pit.floor + float(finding.cure.split("shut at ")[1].split(" mm")[0]) / 1000
    lower = _with(hazel, rested=level)
    assert max(float(each.spilt[-1]) for each in film_band(lower, "stop", topped_up=True)) < 1e-3


def test_a_hose_outlet_under_water_is_told(hazel: Design) -> None:
    low = design(replace(hazel.job, source=replace(hazel.job.source, hose_outlet=hazel.job.source.lip_level - 0.1)))
    said = film_findings(low, (film(low, "restart"),))
    finding = next(each for each in said if each.code == "siphons-back")
    assert "33 L of the box" in finding.says


def test_a_pump_that_cuts_out_again_and_again(withy: Design) -> None:
    taken = film(withy, "restart", "full")
    assert len(taken.cut_outs) > 2
    assert taken.ended == "cuts out again and again"
    gaps = np.diff(taken.cut_outs)
    assert (gaps > 1.0).all()


def test_a_wider_float_switch_cuts_out_less_often(withy: Design) -> None:
    often, seldom = (film(withy, "restart", "low", restart_rise=rise) for rise in (0.05, 0.25))
    assert np.diff(often.cut_outs).mean() < np.diff(seldom.cut_outs).mean()


def test_one_short_run_has_a_film() -> None:
    taken = film(straight_design(one_run(BARE, length=0.1, fall=0.01)), "restart", endless=True)
    assert taken.ended == "steady"
