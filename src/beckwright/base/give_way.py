"""Slow work that lets quick work go first: where somebody waits for an answer, what nobody waits for stands still.

Threads of one process share one interpreter: a film reckoned beside a drag of the hand makes the hand wait. Long
loops call ``give_way`` at each of their steps; what that does is for whoever set the work going to say.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

_TO: ContextVar[Callable[[], None] | None] = ContextVar("gives_way_to", default=None)


def give_way() -> None:
    """Stand still as long as something quicker is wanted; at once back where nobody said anything of it."""
    stands_still = _TO.get()
    if stands_still is not None:
        stands_still()


@contextmanager
def giving_way(stands_still: Callable[[], None]) -> Iterator[None]:
    """Within this, ``give_way`` calls ``stands_still``."""
    before = _TO.set(stands_still)
    try:
        yield
    finally:
        _TO.reset(before)
