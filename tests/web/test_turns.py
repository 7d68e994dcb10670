"""Who waits goes first: what nobody waits for stands still meanwhile, but never for ever."""

from concurrent.futures import ThreadPoolExecutor
from threading import Event, Thread

import pytest
from anyio import create_task_group, move_on_after, run, sleep
from anyio.to_thread import run_sync

from beckwright.base.give_way import give_way, giving_way
from beckwright.cures import Bench
from beckwright.film import film
from beckwright.job.edit import read_edit
from beckwright.job.read import read_job_text
from beckwright.web.desk import turns
from beckwright.web.desk.turns import Turns
from tests.film.streams import EXAMPLES
from tests.readings.test_switch_on import designed


def begun(turn: Turns) -> Event:
    """Something slow that gives way once, and the sign it sets when it goes on."""
    went_on = Event()

    def slow() -> None:
        with turn.slow():
            give_way()
        went_on.set()

    Thread(target=slow, daemon=True).start()
    return went_on


def test_slow_work_stands_still_while_something_quick_is_wanted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(turns, "LONGEST", 60.0)
    turn = Turns()
    with turn.quick():
        went_on = begun(turn)
        assert not went_on.wait(0.1)
    assert went_on.wait(10.0)


def test_it_waits_for_the_next_try_of_a_hand_that_drags(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(turns, "QUIET", 60.0)
    monkeypatch.setattr(turns, "LONGEST", 120.0)
    turn = Turns()
    with turn.quick():
        pass
    assert not begun(turn).wait(0.1)


def test_nothing_stands_still_for_ever(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(turns, "LONGEST", 0.05)
    turn = Turns()
    with turn.quick():
        assert begun(turn).wait(10.0)


def test_two_at_once_are_both_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(turns, "LONGEST", 60.0)
    monkeypatch.setattr(turns, "QUIET", 0.0)
    turn = Turns()
    with turn.quick():
        with turn.quick():
            went_on = begun(turn)
        assert not went_on.wait(0.1)
    assert went_on.wait(10.0)


def test_who_is_not_slow_never_waits() -> None:
    turn = Turns()
    with turn.quick():
        give_way()


def test_films_and_cures_give_way() -> None:
    folder = EXAMPLES / "hazel_bank"
    text = (folder / "job.toml").read_text(encoding="utf-8")
    asked: list[int] = []
    with giving_way(lambda: asked.append(1)):
        film(designed("hazel_bank"), "restart", "everyday")
        by_film = len(asked)
        bench = Bench(text, lambda each: read_job_text(each, folder), designed("hazel_bank").ground)
        bench.looked([read_edit({"do": "set flow", "name": "full", "l_h": 9100})])
    assert by_film > 5
    assert len(asked) == by_film + 1


def test_however_many_ask_for_what_is_slow_somebody_is_left_for_what_is_quick() -> None:
    """A server has forty threads; a hundred people wait for something that takes its time."""
    turn, let_go = Turns(), Event()

    async def everybody() -> bool:
        async with create_task_group() as people:
            for _ in range(100):
                people.start_soon(turn.apart, lambda: let_go.wait(60.0))
            await sleep(0.1)
            with move_on_after(10.0):
                await run_sync(let_go.set)
            answered = let_go.is_set()
            let_go.set()
        return answered

    # In a thread of its own: browser tests of the same run leave a loop running in this one.
    with ThreadPoolExecutor(1) as aside:
        assert aside.submit(run, everybody).result()
