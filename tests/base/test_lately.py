"""What is remembered of one and the same thing, and of no other."""

from beckwright.base.lately import HELD, lately


class Thing:
    """As large as you please, and never compared."""

    __hash__ = None  # type: ignore[assignment]

    def __eq__(self, other: object) -> bool:
        raise AssertionError


def test_it_is_worked_out_once_for_one_thing_and_what_goes_with_it() -> None:
    asked: list[tuple[Thing, float]] = []

    @lately
    def work_out(thing: Thing, more: float = 0.0) -> object:
        asked.append((thing, more))
        return object()

    one, other = Thing(), Thing()
    assert work_out(one, 1.0) is work_out(one, 1.0)
    assert work_out(one, 2.0) is not work_out(one, 1.0)
    assert work_out(other, 1.0) is not work_out(one, 1.0)
    assert len(asked) == 3


def test_only_the_last_few_are_held() -> None:
    count = 0

    @lately
    def work_out(thing: Thing) -> int:
        nonlocal count
        count += 1
        return count

    first = Thing()
    work_out(first)
    for _ in range(HELD):
        work_out(Thing())
    assert work_out(first) == HELD + 2
