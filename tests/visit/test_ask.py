"""What can be said at a first visit, what cannot, and what is then on the doubt list."""

import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from beckwright.base.errors import JobError
from beckwright.base.findings import Severity
from beckwright.compose import Works, design
from beckwright.job.read import read_job
from beckwright.visit import estimate, job_text, visit_of
from beckwright.visit.words import FORMS, next_in_words, taken, tape_end, told

DAY = date(2026, 5, 1)
SEEN = {"length": 18.0, "fall": 1.6, "width": 0.6, "access": 1.2}


def written(folder: Path, title: str = "Sketch", **said: Any) -> dict[str, Any]:
    given = {name: said.pop(name) for name in (*SEEN, "flow") if name in said}
    for name, text in job_text(visit_of(given, **said), title=title, day=DAY).items():
        (folder / name).write_text(text, encoding="utf-8")
    return tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize(
    ("said", "place"),
    [
        ({"given": {"length": 1.0}}, "length"),
        ({"given": {"length": float("nan")}}, "length"),
        ({"given": {"fall": 60.0}}, "fall"),
        ({"given": {"length": 10.0, "fall": 4.5}}, "fall"),
        ({"given": {"length": 50.0, "fall": 0.2}}, "fall"),
        ({"given": {"flow": 10.0}}, "flow"),
        ({"given": {}, "look": "torrent"}, "look"),
        ({"given": {}, "measured": frozenset({"length"})}, "measured"),
        ({"given": {"height": 2.0}}, "height"),
        ({"given": {}, "prices": {"gold": 1.0}}, "price"),
        ({"given": {}, "prices": {"stone": -1.0}}, "price of stone"),
        ({"given": {}, "currency": 'G"'}, "currency"),
    ],
)
def test_what_cannot_be_is_refused_with_a_remedy(said: dict[str, Any], place: str) -> None:
    with pytest.raises(JobError) as caught:
        visit_of(**said)
    assert [problem.place for problem in caught.value.problems] == [place]
    assert all(problem.rule and problem.remedy for problem in caught.value.problems)


def test_everything_wrong_is_told_at_once() -> None:
    with pytest.raises(JobError) as caught:
        visit_of({"length": 1, "fall": 60, "flow": 1}, look="torrent", prices={"gold": 1})
    assert len(caught.value.problems) == 6  # Length, fall, flow, the slope of the two, look, price.


def test_one_of_length_and_fall_holds_the_other_to_what_a_stream_is() -> None:
    """Nobody knows the length of a stream that falls 4 m: it is no cascade of 6 m."""
    visit = visit_of({"fall": 4.0})
    assert visit.of("length").low == pytest.approx(10.0)
    short = visit_of({"length": 3.0})
    assert short.of("fall").high == pytest.approx(1.2)


@pytest.mark.parametrize(
    "said",
    [
        {},
        SEEN,
        {**SEEN, "look": "trickle"},
        {**SEEN, "look": "full", "measured": frozenset(SEEN)},
        {"flow": 6000.0, "width": 1.0},
        {"length": 3.0, "fall": 0.3, "width": 0.3, "look": "trickle"},
        {"length": 40.0, "fall": 5.0, "width": 1.5, "look": "full"},
    ],
)
def test_the_job_reads_and_nothing_of_it_fails(said: dict[str, Any], tmp_path: Path) -> None:
    """Nothing a design refuses, and none of its checks below the line that the trade calls a fault, but for the water
    a bed may swallow: that is what the look is for."""
    written(tmp_path, **said)
    designed = design(read_job(tmp_path))
    found = [*designed.findings, *Works(designed).findings]
    assert [each.says for each in found if each.severity is Severity.FAIL and each.key != "runs-unseen"] == []


def test_what_is_assumed_is_on_the_doubt_list_and_what_is_measured_is_not(tmp_path: Path) -> None:
    by_eye = written(tmp_path, **SEEN, look="everyday")
    assert {"survey.csv", "site.soil", "pumps.csv", "site.access_width_m", "flows.everyday"} <= set(
        by_eye["job"]["doubts"]
    )
    assert by_eye["job"]["invented"]
    measured = written(tmp_path, **SEEN, flow=6000.0, measured=frozenset({"access"}))
    assert {"site.access_width_m", "flows.wanted"}.isdisjoint(measured["job"]["doubts"])


def test_a_title_with_any_sign_is_taken(tmp_path: Path) -> None:
    title = 'The "lower" end \\ 3 m, übermäßig'
    assert written(tmp_path, title=title)["job"]["title"] == title
    assert read_job(tmp_path).title.name == title


def test_prices_go_into_the_job_and_a_missing_one_does_not(tmp_path: Path) -> None:
    text = written(tmp_path, **SEEN, prices={"energy": 0.31, "stone": 140.0, "lining": 9.5})
    assert text["prices"]["energy_per_kwh"] == 0.31
    estimated = Works(design(read_job(tmp_path))).estimate
    priced = {line.item.key for line in estimated.lines if line.price is not None}
    assert {"stone.edge", "lining.course", "lining.fleece"} <= priced
    assert estimated.misfits == ()
    assert not any(key.startswith("crates") for key in priced)


def test_without_prices_there_is_no_price_list(tmp_path: Path) -> None:
    text = written(tmp_path, **SEEN)
    assert "energy_per_kwh" not in text["prices"]
    assert not (tmp_path / "prices.csv").exists()


def test_words_are_low_first_rounded_outward_and_say_what_was_taken() -> None:
    answers = estimate(visit_of(SEEN, look="everyday"))
    found = {each.key: each for each in told(answers)}
    assert found.keys() == FORMS.keys() - {"running", "build"}
    flow = answers.of("flow")
    assert flow is not None
    low, high = (float(word.replace("\u2009", "")) for word in found["flow"].says.removesuffix(" L/h").split(" to "))
    assert low <= flow.low * 3.6e6 < low + 100
    assert high - 100 < flow.high * 3.6e6 <= high
    for each in found.values():
        assert 0 <= each.low <= each.high <= 1
    assert next_in_words(answers)
    bands = {key: band for key, _, band in taken(answers.visit)}
    assert bands["length"].startswith("16.2 to 19.8 m, by eye")
    assert all("assumed" in band or "common practice" in band for band in bands.values())


@pytest.mark.parametrize(("high", "end"), [(0.7, 1), (9.9, 20), (4.2, 5), (1240, 2000), (22700, 50000), (1.0, 2)])
def test_a_tape_ends_at_a_round_number_beyond_the_band(high: float, end: float) -> None:
    assert tape_end(high) == pytest.approx(end)
