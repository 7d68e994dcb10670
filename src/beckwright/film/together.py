"""Work that needs films, done together: all films wanted at one time are taken abreast.

A piece of work is a generator. It asks for a film by yielding a ``Scene`` and is given what was ``Taken``; it asks for
other pieces of work by yielding a tuple of them, and is given what each returned; it asks for work that others may ask
for as well by yielding a ``Once``. What comes of a piece does not hang on what is done beside it.
"""

from collections.abc import Callable, Generator
from functools import partial
from typing import Any, Generic, TypeVar

from beckwright.film.march import Marching
from beckwright.film.reel import Scene

T = TypeVar("T")

Work = Generator["Scene | tuple[Work[Any], ...] | Once[Any]", Any, T]
"""A piece of work that returns a T; the films and other pieces it needs are yielded."""


class Once(Generic[T]):
    """Work that several may ask for: begun by the first, and all are given what it returns."""

    def __init__(self, work: Work[T]) -> None:
        self.work = work
        self._waiting, self._returned = list[Callable[[T], None]](), list[T]()

    def asked_by(self, done: Callable[[T], None]) -> bool:
        """Have ``done`` told what it returns; True where the work is still to be begun."""
        if self._returned:
            done(self._returned[0])
            return False
        self._waiting.append(done)
        return len(self._waiting) == 1

    def returns(self, answer: T) -> None:
        """Tell all who wait."""
        self._returned.append(answer)
        for done in self._waiting:
            done(answer)


def do(work: Work[T]) -> T:
    """Do one piece of work, and what it asks for. Raises what the work raises, or the march."""
    together, done = _Together(), list[T]()
    together.go_on(work, None, done.append)
    together.march()
    return done[0]


class _Together:
    def __init__(self) -> None:
        self._marching: dict[tuple[str, ...], Marching] = {}

    def march(self) -> None:
        """Take films until none is wanted; loops with other nodes go in a march of their own."""
        while any(marching.wanted for marching in self._marching.values()):
            for marching in [*self._marching.values()]:
                marching.go()

    def go_on(self, work: Work[T], given: Any, done: Callable[[T], None]) -> None:
        """Let the work have what it asked for, and see to what it asks for next."""
        try:
            asked = work.send(given)
        except StopIteration as end:
            done(end.value)
            return
        if isinstance(asked, Scene):
            marching = self._marching.setdefault(asked.nodes.kinds, Marching())
            marching.join(asked, lambda taken: self.go_on(work, taken, done))
        elif isinstance(asked, Once):
            if asked.asked_by(lambda answer: self.go_on(work, answer, done)):
                self.go_on(asked.work, None, asked.returns)
        else:
            self._share_out(asked, lambda answers: self.go_on(work, answers, done))

    def _share_out(self, works: tuple[Work[Any], ...], done: Callable[[tuple[Any, ...]], None]) -> None:
        answers = dict[int, Any]()

        def answered(row: int, answer: Any) -> None:
            answers[row] = answer
            if len(answers) == len(works):
                done(tuple(answers[each] for each in range(len(works))))

        for row, work in enumerate(works):
            self.go_on(work, None, partial(answered, row))
        if not works:
            done(())
