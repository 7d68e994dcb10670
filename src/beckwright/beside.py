"""Processes that work beside this one: films and DXF files are made there while sheets are drawn here.

Each is a plain child that is handed work through a pipe: begun early, so that it reads its libraries while the job is
designed, and the same on every system, with or without fork, whatever script called us, whatever threads there are.
Where none can begin, or one dies, its work is done here when its answer is wanted: later, and the same to the byte.
Whoever waits for an answer does meanwhile what nobody has begun, from the end: all have work until it is done.
"""

import gc
import os
import pickle
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from importlib import import_module
from queue import SimpleQueue
from threading import get_ident
from typing import IO, Any, Generic, ParamSpec, Self, TypeVar

from beckwright.base.words import Measure, reads
from beckwright.base.words import told_in as told_in_units
from beckwright.languages import spoken
from beckwright.languages import told_in as told_in_language

P = ParamSpec("P")
T = TypeVar("T")

_HANDS_AT_MOST = 3
"""A child takes the memory of the libraries once more; beyond three, whoever draws the sheets is waited for."""

_SWEPT_AFTER = 100_000
"""Things made until those that hold each other are looked for: our values never do, and looking takes time."""

_BEGIN = "import sys; sys.path[:] = sys.argv[3:]; from beckwright.beside import serve; serve(*sys.argv[1:3])"
_PATIENT = "patient"

FOR_SHEETS = ("beckwright.papers.formats.pdf", "fontTools.ttLib.tables.otTables", "scipy.linalg.lapack")
FOR_PAPERS = (*FOR_SHEETS, "ezdxf.filemanagement")
FOR_FILMS = ("beckwright.film",)
"""What is read while nothing is asked yet."""


class Asked(Generic[T]):
    """Work asked for."""

    def __init__(self, work: Callable[[], T], under_way: "Future[T] | None", others: "list[Asked[Any]]") -> None:
        self._work, self._under_way, self._others = work, under_way, others
        self._asker, self._answer = get_ident(), list[T]()

    def result(self) -> T:
        """What it gives, or raises; who waits for it does other work meanwhile that has not been begun."""
        while self._under_way is not None and not self._take_back() and not self._under_way.done():
            if not self._do_another():
                break
        if self._under_way is not None:
            try:
                return self._under_way.result()
            except (EOFError, OSError):
                # The other process is gone. The work is as good here.
                self._under_way = None
        return self._answer[0] if self._answer else self._work()

    def awaited(self) -> T:
        """The same for who has nothing else to do: done here only where the other process is gone."""
        if self in self._others:
            self._others.remove(self)
        try:
            return self._work() if self._under_way is None else self._under_way.result()
        except (EOFError, OSError):
            return self._work()

    def _take_back(self) -> bool:
        """Whether it had not been begun: then it is done here."""
        if self._under_way is None or not self._under_way.cancel():
            return False
        self._under_way = None
        return True

    def _do_another(self) -> bool:
        """Do the last asked for, by the same thread, that nobody has begun; False where there is none."""
        while self._others:
            other = self._others.pop()
            if other is not self and other._asker == get_ident() and other._take_back():
                other._answer.append(other._work())
                return True
        return False


class Beside:
    """Somebody to hand work to.

    hands      how many processes; with none, all work is done by whoever waits for it
    libraries  what they read while nothing is asked yet
    patient    whether they let every other program of this machine go first

    Close it, or use it in a ``with``: what is under way is then broken off. Functions handed over stand in a module,
    and what they are given can be pickled.
    """

    def __init__(
        self, hands: int | None = None, *, libraries: tuple[str, ...] = FOR_PAPERS, patient: bool = False
    ) -> None:
        begun = [_begun(libraries, patient=patient) for _ in range(_spare() if hands is None else hands)]
        self._processes = [each for each in begun if each]
        self._free: SimpleQueue[subprocess.Popen[bytes]] = SimpleQueue()
        for process in self._processes:
            self._free.put(process)
        # A thread for each carries the work over, in the order it was asked for.
        self._carrier = ThreadPoolExecutor(max(len(self._processes), 1), "work carried over")
        self._asked: list[Asked[Any]] = []

    def ask(self, work: Callable[P, T], *given: P.args, **more: P.kwargs) -> Asked[T]:
        """Have work done in the units and the language of who asks."""
        if not self._processes:
            return Asked(lambda: work(*given, **more), None, self._asked)
        parcel = pickle.dumps((reads().value, spoken(), work, given, more), pickle.HIGHEST_PROTOCOL)
        asked = Asked(lambda: work(*given, **more), self._carrier.submit(self._carried, parcel), self._asked)
        self._asked.append(asked)
        return asked

    def close(self) -> None:
        """End the other processes, whatever they are doing."""
        self._carrier.shutdown(wait=False, cancel_futures=True)
        for process in self._processes:
            process.kill()
            process.wait()
        self._carrier.shutdown()
        for process in self._processes:
            for pipe in (process.stdin, process.stdout):
                _shut(pipe)

    def _carried(self, parcel: bytes) -> Any:
        process = self._free.get()
        try:
            return _carried(process, parcel)
        finally:
            self._free.put(process)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def _spare() -> int:
    """One process for each core this one leaves, and no more than there is work for at a time; one at least."""
    return min(max((os.cpu_count() or 2) - 1, 1), _HANDS_AT_MOST)


def _begun(libraries: tuple[str, ...], *, patient: bool) -> "subprocess.Popen[bytes] | None":
    if not sys.executable or getattr(sys, "frozen", False):
        return None
    try:
        return subprocess.Popen(  # noqa: S603  # Ourselves, with the paths we were begun with.
            [sys.executable, "-c", _BEGIN, ",".join(libraries), _PATIENT if patient else "", *sys.path],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
        )
    except OSError:
        return None


def _carried(process: "subprocess.Popen[bytes]", parcel: bytes) -> Any:
    into, out = process.stdin, process.stdout
    if into is None or out is None:
        raise EOFError
    into.write(parcel)
    into.flush()
    well, answer = pickle.load(out)  # noqa: S301  # From our own child, through our own pipe.
    if well:
        return answer
    raise answer


def _shut(pipe: IO[bytes] | None) -> None:
    try:
        if pipe is not None:
            pipe.close()
    except OSError:
        # Something was still to be written to a process that is gone.
        pass


def serve(libraries: str, pace: str) -> None:
    """In the other process: do what comes in, until nobody is left to ask."""
    import signal

    if pace == _PATIENT and hasattr(os, "nice"):
        os.nice(19)

    # Ctrl-C reaches both; the one who asked decides. Whatever is printed must not stand among the answers.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    gc.disable()
    for name in libraries.split(","):
        import_module(name)
    gc.freeze()
    gc.enable()
    gc.set_threshold(_SWEPT_AFTER)
    while True:
        try:
            units, language, work, given, more = pickle.load(sys.stdin.buffer)  # noqa: S301  # From our own parent.
        except (EOFError, OSError):
            return
        try:
            with told_in_units(Measure(units)), told_in_language(language):
                answer = (True, work(*given, **more))
        except Exception as trouble:  # Raised again where the answer is waited for.
            answer = (False, trouble)
        try:
            pickle.dump(answer, answers, pickle.HIGHEST_PROTOCOL)
            answers.flush()
        except OSError:
            return
