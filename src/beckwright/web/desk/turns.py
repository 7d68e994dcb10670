"""Whose turn it is: who waits for an answer goes first, and what nobody waits for stands still meanwhile."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Condition
from time import monotonic
from typing import TypeVar

from anyio import CapacityLimiter
from anyio.to_thread import run_sync

from beckwright.base.give_way import giving_way
from beckwright.base.quantities import Duration

QUIET: Duration = 0.15
"""A hand that drags asks again within this; between two of its tries nothing slow is worth beginning."""
LONGEST: Duration = 3.0
"""Nothing stands still longer at one go: however much is asked, slow work goes on."""
SLOW_THREADS = 6
"""However many ask for what is slow, threads are left for what is quick: they wait in a line of their own."""

T = TypeVar("T")


class Turns:
    """Quick and slow work of one desk. Every method may be called from any thread."""

    def __init__(self) -> None:
        self._changed = Condition()
        self._threads = CapacityLimiter(SLOW_THREADS)
        self._quick, self._last = 0, float("-inf")

    @contextmanager
    def quick(self, *, more_to_come: bool = True) -> Iterator[None]:
        """Go first; where the hand has let go, nothing more like it is waited for."""
        with self._changed:
            self._quick += 1
        try:
            yield
        finally:
            with self._changed:
                self._quick -= 1
                self._last = monotonic() if more_to_come else float("-inf")
                self._changed.notify_all()

    async def apart(self, work: Callable[[], T]) -> T:
        """Do slow work in a thread of those that are kept for it."""
        return await run_sync(work, limiter=self._threads)

    @contextmanager
    def slow(self) -> Iterator[None]:
        """Stand still at every ``give_way`` while something quick is wanted."""
        with giving_way(self._stand_still):
            yield

    def _stand_still(self) -> None:
        until = monotonic() + LONGEST
        with self._changed:
            while (now := monotonic()) < until:
                again = until if self._quick else min(self._last + QUIET, until)
                if again <= now:
                    return
                self._changed.wait(again - now)
