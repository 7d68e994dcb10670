"""Whose turn it is: who waits for an answer goes first, and what nobody waits for stands still meanwhile."""

from collections.abc import Iterator
from contextlib import contextmanager
from threading import Condition
from time import monotonic

from beckwright.base.give_way import giving_way
from beckwright.base.quantities import Duration

QUIET: Duration = 0.15
"""A hand that drags asks again within this; between two of its tries nothing slow is worth beginning."""
LONGEST: Duration = 3.0
"""Nothing stands still longer at one go: however much is asked, slow work goes on."""


class Turns:
    """Quick and slow work of one desk. Every method may be called from any thread."""

    def __init__(self) -> None:
        self._changed = Condition()
        self._quick, self._last = 0, float("-inf")

    @contextmanager
    def quick(self) -> Iterator[None]:
        """Go first."""
        with self._changed:
            self._quick += 1
        try:
            yield
        finally:
            with self._changed:
                self._quick, self._last = self._quick - 1, monotonic()
                self._changed.notify_all()

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
