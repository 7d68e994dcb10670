"""Sheets drawn in a thread of their own, so that a page can say how far it is, and a person can stop it."""

from contextvars import copy_context
from threading import Event, Lock, Thread
from typing import NamedTuple

from beckwright.languages import spoken
from beckwright.web.desk.opened import Desk, Laid


class Look(NamedTuple):
    """How far the sheets of a revision are. ``of`` is 0 until it is known how many there will be."""

    laid: Laid
    revision: int
    done: int
    of: int
    stopped: bool = False

    @property
    def drawn(self) -> bool:
        """Whether all of them are there."""
        return self.laid.drawn


class _StoppedError(Exception):
    """Somebody stopped the drawing."""


class _Drawing:
    """One set being drawn."""

    def __init__(self, desk: Desk, laid: Laid) -> None:
        self.laid, self.done, self.of = laid, 0, 0
        self.language = spoken()
        self.trouble: Exception | None = None
        self.stop, self.ended = Event(), Event()
        # In the units and the language of who asked.
        Thread(target=copy_context().run, args=(self._draw, desk), daemon=True, name="drawing the sheets").start()

    def _draw(self, desk: Desk) -> None:
        try:
            # Nothing else slow is worked out meanwhile; the set asked for is drawn even where the line moves on.
            with desk.slowly():
                self.laid.sheets(self._tell)
        except _StoppedError:
            pass
        except Exception as trouble:  # Told to whoever asks next, at the edge of the house as any other.
            self.trouble = trouble
        finally:
            self.ended.set()

    def _tell(self, done: int, of: int) -> None:
        self.done, self.of = done, of
        if self.stop.is_set():
            raise _StoppedError


class Drawer:
    """The sheets of the job as it stands. Every method may be called from any thread."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._lock = Lock()
        self._drawing: _Drawing | None = None

    def look(self, *, begin: bool, wait: float) -> Look:
        """Look how far the sheets are.

        begin  draw them where nobody does
        wait   seconds to wait for them at most
        Raises ``JobError`` where the job cannot be designed, and whatever went wrong with the drawing.
        """
        held = self.desk.stands()
        laid = self.desk.laid(held)
        if laid.drawn:
            return _all_drawn(laid, held.revision.number)
        drawing = self._of(laid, begin=begin)
        if drawing is None:
            return Look(laid, held.revision.number, 0, 0, stopped=True)
        drawing.ended.wait(wait)
        if drawing.trouble is not None:
            with self._lock:
                self._drawing = None
            raise drawing.trouble
        if laid.drawn:
            return _all_drawn(laid, held.revision.number)
        return Look(laid, held.revision.number, drawing.done, drawing.of, stopped=drawing.stop.is_set())

    def stop(self) -> None:
        """Stop drawing once the part in hand is done. What has been worked out stays."""
        with self._lock:
            if self._drawing is not None:
                self._drawing.stop.set()

    def _of(self, laid: Laid, *, begin: bool) -> _Drawing | None:
        """The drawing of a job, begun where that is asked; one of a job that stands no more is stopped."""
        with self._lock:
            held = self._drawing
            mine = held is not None and held.laid is laid and held.language == spoken()
            if held is not None and mine and not (begin and held.stop.is_set()):
                return held
            if not begin:
                return None
            if held is not None:
                held.stop.set()
            self._drawing = _Drawing(self.desk, laid)
            return self._drawing


def _all_drawn(laid: Laid, revision: int) -> Look:
    count = len(laid.sheets())
    return Look(laid, revision, count, count)
