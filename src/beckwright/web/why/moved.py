"""What moves a figure most, looked for in the background: shown as far as it is, and stopped when a person says so."""

from threading import Lock, Thread

from beckwright.base.words import quantity
from beckwright.figures.influence import Influence, influences
from beckwright.web.desk.answers import number
from beckwright.web.desk.opened import Laid
from beckwright.web.desk.state import Told

SHOWN = 8
"""Bars of one figure."""


class _Stopped(Exception):  # noqa: N818  # Nothing went wrong: somebody has seen enough.
    """Somebody has seen enough, or asked for another figure."""


class Search:
    """One figure being asked what moves it. Every method may be called from any thread."""

    def __init__(self, laid: Laid, figure: str, unit: str) -> None:
        self.laid, self.figure, self.unit = laid, figure, unit
        self._found: list[Influence] = []
        self._done, self._of, self._state, self._stop = 0, 0, "working", False
        self._thread = Thread(target=self._look, daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """Let go after the input being tried."""
        self._stop = True
        self._thread.join()

    @property
    def over(self) -> bool:
        """Whether all inputs have been tried."""
        return self._state == "done"

    def told(self) -> Told:
        """How far it is, and the strongest so far, each bar as shares of one width."""
        found = sorted(self._found, key=lambda each: -each.effect)[:SHOWN]
        return {
            "figure": self.figure,
            "state": self._state,
            "done": self._done,
            "of": self._of,
            "found": len(self._found),
            "moved": [self._bar(each, found) for each in found],
        }

    def _bar(self, one: Influence, among: list[Influence]) -> Told:
        ends = [end for each in among for end in (each.low, each.high, each.before)]
        least, width = min(ends), max(ends) - min(ends)
        share = [
            round((end - least) / width, 4) for end in (min(one.low, one.high), max(one.low, one.high), one.before)
        ]
        return {
            "key": one.key,
            "change": one.change,
            "low": number(one.low),
            "high": number(one.high),
            "words": f"{quantity(one.low, self.unit)}, {quantity(one.high, self.unit)}",
            "bar": share,
        }

    def _look(self) -> None:
        def progress(done: int, count: int) -> None:
            self._done, self._of = done, count
            if self._stop:
                raise _Stopped

        try:
            influences(self.laid.design, self.figure, progress=progress, found=self._found.append)
        except _Stopped:
            self._state = "stopped"
        except Exception:  # Told to who asked, not to a thread nobody looks at.
            self._state = "broken"
            raise
        else:
            self._done, self._state = self._of, "done"


class Searches:
    """The searches of one desk: one at a time, and what is done of a text is kept with it."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._now: Search | None = None
        self._kept: dict[tuple[int, str], Search] = {}

    def start(self, laid: Laid, figure: str, unit: str) -> Search:
        """Look, unless that is done or under way; whatever else was being looked for is let go."""
        with self._lock:
            held = self.of(laid, figure)
            if held is not None and (held.over or held is self._now):
                return held
            self._let_go()
            self._kept = {key: one for key, one in self._kept.items() if one.laid is laid}
            self._now = self._kept[(id(laid), figure)] = Search(laid, figure, unit)
            return self._now

    def stop(self) -> None:
        """Let go of what is being looked for."""
        with self._lock:
            self._let_go()

    def of(self, laid: Laid, figure: str) -> Search | None:
        """The search for a figure of this text, if there is one."""
        held = self._kept.get((id(laid), figure))
        return held if held is not None and held.laid is laid else None

    def _let_go(self) -> None:
        if self._now is not None:
            self._now.stop()
            self._now = None
