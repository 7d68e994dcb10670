"""The programme by hand and by laws: week-ends, waits, weather, chance, and tasks the person wrote."""

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright import JobError
from beckwright.base.errors import Problem
from beckwright.base.items import Item
from beckwright.job.model import Crew, OwnTask, WorkForce
from beckwright.job.tables.tasks import read_tasks
from beckwright.stages.programme import Task, make_programme, own_tasks, tasks_for
from beckwright.stages.programme.calendar import calendar
from beckwright.stages.programme.chance import tries
from beckwright.stages.programme.network import network, passes

MONDAY = date(2026, 9, 28)
FORCE = WorkForce(start=MONDAY, people=2, hours=8.0, machine="1.5 t", resting=(5, 6), holidays=(), lost=0.0, seed=1)


def task(name: str, days: float, *after: str, crew: Crew = "own crew", weather: bool = False) -> Task:
    return Task(name=name, crew=crew, shortest=days, likely=days, longest=days, after=after, weather=weather)


def item(key: str, amount: float) -> Item:
    return Item(
        key=key, name=key, amount=amount, low=amount, high=amount, unit="m3", supplier="own crew", drawing="by hand"
    )


def test_work_rests_over_the_week_end() -> None:
    """Seven days from a Monday end on the Tuesday of the next week; what follows begins on the Wednesday."""
    found = make_programme((task("one", 7), task("two", 1, "one")), FORCE)
    assert found is not None
    one, two = found.tasks
    assert (one.starts, one.ends) == (MONDAY, date(2026, 10, 6))
    assert (two.starts, two.ends) == (date(2026, 10, 7), date(2026, 10, 7))
    assert found.finish == found.p50 == found.p90 == date(2026, 10, 7)


def test_mortar_sets_on_a_sunday_too() -> None:
    """Five days to Friday, then three of curing over the week-end: work goes on on Monday, and curing has no float."""
    found = make_programme((task("lay", 5), task("cure", 3, "lay", crew="nobody"), task("run", 1, "cure")), FORCE)
    assert found is not None
    lay, cure, run = found.tasks
    assert (cure.starts, cure.ends, run.starts) == (date(2026, 10, 3), date(2026, 10, 5), date(2026, 10, 6))
    assert lay.total_float == pytest.approx(0.0, abs=1e-9)
    short = make_programme((task("lay", 5), task("cure", 1, "lay", crew="nobody"), task("run", 1, "cure")), FORCE)
    assert short is not None
    # The week-end takes up two days of a wait of one: it may begin a day later.
    assert short.tasks[1].total_float == pytest.approx(1.0, abs=1e-9)


def test_holidays_stand_still() -> None:
    force = replace(FORCE, holidays=(date(2026, 9, 29),))
    found = make_programme((task("one", 2),), force)
    assert found is not None
    assert found.finish == date(2026, 9, 30)


def test_half_days_share_a_day() -> None:
    found = make_programme((task("one", 0.5), task("two", 0.5, "one"), task("three", 1, "two")), FORCE)
    assert found is not None
    assert [each.ends for each in found.tasks] == [MONDAY, MONDAY, MONDAY + timedelta(days=1)]
    assert found.clashes == ()


def test_one_crew_cannot_be_in_two_places() -> None:
    found = make_programme((task("one", 3), task("two", 3)), FORCE)
    assert found is not None
    (clash,) = found.clashes
    assert {clash.one, clash.other} == {"one", "two"}
    apart = make_programme((task("one", 3), task("two", 3, crew="electrician")), FORCE)
    assert apart is not None
    assert apart.clashes == ()


def test_a_digger_is_hired_from_first_to_last() -> None:
    found = make_programme(
        (task("dig", 2, crew="digger"), task("set", 2, "dig"), task("fill", 1, "set", crew="digger")), FORCE
    )
    assert found is not None
    (hire,) = found.hires
    assert (hire.starts, hire.ends, hire.days) == (MONDAY, date(2026, 10, 2), 5)


def test_nobody_knows_when() -> None:
    assert make_programme((task("one", 1),), replace(FORCE, start=None)) is None
    assert make_programme((), FORCE) is None


def test_a_seed_gives_the_same_tries_and_another_gives_others() -> None:
    spread = (replace(task("one", 3), shortest=2.0, longest=9.0), task("two", 2, "one", weather=True))
    plan = network(spread, "here")
    one, same, other = (tries(plan, 0.2, seed, 500) for seed in (7, 7, 8))
    assert np.array_equal(one, same)
    assert not np.array_equal(one, other)


def test_tries_keep_the_mean_of_the_guesses() -> None:
    """(2 + 4 x 4 + 12) / 6 is 5; half as long again with a third of the days lost. A hundredth off in 200 000 tries."""
    plan = network((replace(task("one", 4, weather=True), shortest=2.0, longest=12.0),), "here")
    assert tries(plan, 0.0, 3, 200_000).mean() == pytest.approx(5.0, rel=0.01)
    assert tries(plan, 1 / 3, 3, 200_000).mean() == pytest.approx(7.5, rel=0.01)


def test_paths_that_meet_end_later_than_either() -> None:
    """Two tasks of N(10, 2), side by side, end at 10 + 2 / pi**0.5 = 11.13 on the mean (Clark 1961: stored check)."""
    calm = calendar(MONDAY, 200, frozenset(), frozenset())
    plan = network((task("one", 10), task("two", 10, crew="electrician")), "here")
    drawn = np.random.default_rng(5).normal(10.0, 2.0, size=(2, 100_000)).clip(0.0, 60.0)
    assert passes(plan, drawn, calm).early_finish.max(axis=0).mean() == pytest.approx(11.13, abs=0.02)


def test_the_ends_are_ordered_and_chance_finds_the_critical_way() -> None:
    spread = (
        replace(task("long", 10), shortest=8.0, longest=20.0),
        replace(task("short", 3, crew="electrician"), shortest=2.0, longest=4.0),
        task("end", 1, "long", "short"),
    )
    found = make_programme(spread, replace(FORCE, resting=()))
    assert found is not None
    assert found.p50 <= found.p80 <= found.p90
    share = {each.task.name: each.criticality for each in found.tasks}
    assert share == pytest.approx({"long": 1.0, "short": 0.0, "end": 1.0}, abs=1e-9)


def test_outputs_turn_amounts_into_days() -> None:
    """Hand calculation: 20 m3 of pit at 2.5 m3/h and 8 h a day are a day; at 1.5 to 3.2, 0.78 to 1.67 days."""
    tasks = {each.name: each for each in tasks_for((item("ground.pit", 20.0),), FORCE, 0)}
    dig = tasks["dig the pit"]
    assert (dig.shortest, dig.likely, dig.longest) == pytest.approx((20 / 3.2 / 8, 1.0, 20 / 1.5 / 8))
    assert dig.crew == "digger"
    by_hand = {each.name: each for each in tasks_for((item("ground.pit", 20.0),), replace(FORCE, machine="by hand"), 0)}
    assert by_hand["dig the pit"].likely == pytest.approx(20 / 0.42 / 8 / 2)


def test_what_has_nothing_to_do_drops_out_and_keeps_the_order() -> None:
    tasks = {each.name: each for each in tasks_for((item("stone.bed.pebbles", 800.0),), FORCE, 0)}
    assert "set the edge stones" not in tasks
    assert "plant" not in tasks
    assert tasks["lay the beds"].after == ("water on the bare lining",)
    assert tasks["hand over"].after == ("test for leaks", "trim the edges")


def test_written_tasks_stand_in_place_of_made_ones() -> None:
    own = OwnTask(
        name="settle", crew="nobody", shortest=90.0, likely=120.0, longest=150.0, after=("one",), weather=False
    )
    extra = replace(own, name="open day", after=("settle",))
    kept = own_tasks((task("one", 1), task("settle", 14, "one", crew="nobody")), (own, extra))
    assert [each.name for each in kept] == ["one", "settle", "open day"]
    assert kept[1].likely == 120.0


def test_rings_and_strangers_are_refused_by_name() -> None:
    with pytest.raises(JobError, match='"one", "two" wait for each other'):
        network((task("one", 1, "two"), task("two", 1, "one")), "tasks.csv")
    with pytest.raises(JobError, match='waits for "three"'):
        network((task("one", 1, "three"), task("one", 2)), "tasks.csv")


def test_a_table_of_tasks_with_every_problem_at_once(tmp_path: Path) -> None:
    path = tmp_path / "tasks.csv"
    path.write_text(
        "task,crew,days_low,days,days_high,after,weather\n"
        "settle,nobody,20,30,60,trim + test,no\n"
        "dance,own crow,1,2,3,,no\n"
        "sing,own crew,3,2,1,,perhaps\n",
        encoding="utf-8",
    )
    problems: list[Problem] = []
    (read,) = read_tasks(path, problems)
    assert (read.name, read.after, read.longest) == ("settle", ("trim", "test"), 60.0)
    assert len(problems) == 3
    assert 'Did you mean "own crew"' in str(problems[0])


@given(
    days=st.lists(st.floats(0.1, 9.0), min_size=2, max_size=7),
    resting=st.sets(st.integers(0, 6), max_size=6),
    longer=st.floats(0.0, 5.0),
)
def test_a_longer_task_never_ends_the_work_sooner(days: list[float], resting: set[int], longer: float) -> None:
    """A law: no duration, lengthened, brings the end forward; floats are never below 0; free is never over total."""
    names = [f"t{number}" for number in range(len(days))]
    tasks = tuple(
        task(name, long, *names[max(0, row - 2) : row], crew="nobody" if row % 3 == 2 else "own crew")
        for row, (name, long) in enumerate(zip(names, days, strict=True))
    )
    plan = network(tasks, "here")
    on = calendar(MONDAY, 900, frozenset(resting), frozenset())
    before = passes(plan, np.array(days), on)
    after = passes(plan, np.array([days[0] + longer, *days[1:]]), on)
    assert after.early_finish.max() >= before.early_finish.max() - 1e-9
    assert before.total_float.min() >= -1e-6
    assert np.all(before.free_float <= before.total_float + 1e-6)


def test_the_chain_that_makes_the_end_holds_over_a_week_end() -> None:
    """Five days to a Friday, a wait of a day, work again on Monday: all are of the chain, though the wait has a day."""
    idle = task("other", 1, crew="electrician")
    cure = task("cure", 1, "lay", crew="nobody")
    found = make_programme((task("lay", 5), cure, task("run", 1, "cure"), idle), FORCE)
    assert found is not None
    assert {each.task.name: each.critical for each in found.tasks} == {
        "lay": True, "cure": True, "run": True, "other": False,
    }  # fmt: skip
