"""The march through time: a Rosenbrock method of second order, its steps as long as the water allows.

Each step solves three times with one banded matrix and needs no iteration (the pair of Shampine and Reichelt 1997;
L-stable, so stones that drain to all but level do not shorten it). Every flow leaves one node and enters the next, in
the matrix too, so water is kept to rounding error whatever the tolerance. What switches (hose full or empty, cut-out,
restart) ends a step exactly there.

Films of loops with the same nodes go abreast: a call on arrays so short costs nearly the same for twenty of them as for
one. Each keeps its own time and its own steps, and comes out the same to the bit whatever goes beside it.
"""

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np

from beckwright.base.give_way import give_way
from beckwright.base.quantities import Duration, FloatArray, Ratio
from beckwright.film.nodes import Nodes, abreast
from beckwright.film.pump import Pumping
from beckwright.film.rates import Rates
from beckwright.film.reel import BOX, HOSE, RESERVOIR, SPILT, Progress, Reel, Rules, Scene, Taken

STEPS_AT_MOST = 200_000

_DIAGONAL = 1.0 / (2.0 + 2.0**0.5)
_THIRD = 6.0 + 2.0**0.5
_LARGE = 0.05
"""An error is measured against what a node holds, but no more than this, m3."""


def march(
    nodes: Nodes,
    pumping: Pumping,
    held: FloatArray,
    highest: FloatArray,
    rules: Rules,
    progress: Progress | None = None,
) -> Taken:
    """Take the film from the water held (m,) and the highest wetted depths among the stones (m,) at its start.

    Raises ArithmeticError where it needs too many steps, and whatever ``progress`` raises.
    """
    taken: list[Taken] = []
    marching = Marching()
    marching.join(Scene(nodes, pumping, held, highest, rules, progress), taken.append)
    marching.go()
    return taken[0]


class _Lying(NamedTuple):
    """How the water of k films lies, each array (k, ...): held, gained in a second, and how flows change with it."""

    held: FloatArray
    highest: FloatArray
    gains: FloatArray
    own: FloatArray
    following: FloatArray


class Marching:
    """Films that are taken abreast, all of loops with the same nodes; each may join, and end, at any time."""

    def __init__(self) -> None:
        from scipy.linalg.lapack import dgttrf, dgttrs

        self._factor, self._solve = dgttrf, dgttrs
        self._films: list[Reel] = []
        self._lying: _Lying
        self._joining: list[Reel] = []

    def join(self, scene: Scene, told: Callable[[Taken], None]) -> None:
        """Have a film taken, and its end ``told``; that may have others join."""
        self._joining.append(Reel(scene, told))

    @property
    def wanted(self) -> bool:
        """Whether any film is still to be taken."""
        return bool(self._films or self._joining)

    def go(self) -> None:
        """March until all have ended."""
        while self.wanted:
            if self._joining or any(film.over for film in self._films):
                self._close_ranks()
            if self._films:
                give_way()
                self._step()

    def _close_ranks(self) -> None:
        """Let those go that have ended, and those in that have joined."""
        stay = [row for row, film in enumerate(self._films) if not film.over]
        films, lying = [self._films[row] for row in stay], [_rows(self._lying, stay)] if stay else []
        while self._joining:
            begun, self._joining = self._joining, []
            begins = _begun(begun)
            stay = [row for row, film in enumerate(begun) if not film.over]
            films += [begun[row] for row in stay]
            lying.append(_rows(begins, stay))
        self._films = films
        if films:
            self._lying = _Lying(*(np.concatenate(arrays) for arrays in zip(*lying, strict=True)))
            self._rates = _rates(films)
            self._tolerance = np.array([[film.rules.tolerance] for film in films])
            self._small = np.array([film.small for film in films])

    def _step(self) -> None:
        """One step of every film, each as long as it thinks right; those whose error is too large stay as they were."""
        films, lying, rates = self._films, self._lying, self._rates
        steps = [_planned(film) for film in films]
        step = np.array(steps)[:, None]
        solved = self._factored(step * _DIAGONAL)
        first = solved(lying.gains)
        middle = lying.held + 0.5 * step * first
        at_middle = _gains(films, rates.water(middle, lying.highest).flow, middle)
        second = solved(at_middle - first) + first
        after = lying.held + step * second
        later = rates.water(after, lying.highest)
        at_end = _gains(films, later.flow, after)
        third = solved(at_end - _THIRD * (second - at_middle) - 2.0 * (first - lying.gains))
        error = step / 6.0 * np.abs(first - 2.0 * second + third)
        worst = self._worst(after, error)
        kept = [film.keeps(*each) for film, *each in zip(films, steps, worst, strict=True)]
        if not any(kept):
            return
        self._lying = _Lying(after, np.maximum(lying.highest, later.wetted), at_end, *rates.changes(later, after))
        for row in (row for row, well in enumerate(kept) if not well):
            for now, before in zip(self._lying, lying, strict=True):
                now[row] = before[row]
        _look(films, [row for row, well in enumerate(kept) if well], later.flow, self._lying)

    def _factored(self, part: FloatArray) -> Callable[[FloatArray], FloatArray]:
        """What solves for the films' gains, (k, m) each, for steps of which these are the parts (k, 1), s.

        The matrices of all films stand along the diagonal of one.
        """
        lower, upper = part * self._lying.own, np.empty(self._lying.own.shape)
        diagonal = 1.0 + lower
        np.multiply(part, self._lying.following, out=upper[:, :-1])
        diagonal[:, 1:] -= upper[:, :-1]
        np.negative(lower, out=lower)
        lower[:, -1] = upper[:, -1] = 0.0
        *factors, _ = self._factor(lower.ravel()[:-1], diagonal.ravel(), upper.ravel()[:-1])

        def solved(right: FloatArray) -> FloatArray:
            answer: FloatArray = self._solve(*factors, right.ravel())[0].reshape(right.shape)
            return answer

        return solved

    def _worst(self, after: FloatArray, error: FloatArray) -> list[Ratio]:
        """The largest error of a node over what it may be. Hose and spilt water follow from the rest."""
        allowed = self._tolerance * (self._small + np.minimum(np.abs(after), _LARGE))
        worst: list[Ratio] = (error / allowed)[:, BOX:SPILT].max(axis=1).tolist()
        return worst


def _planned(film: Reel) -> Duration:
    if film.steps >= STEPS_AT_MOST:
        message = f"the film needs more than {STEPS_AT_MOST} steps; it had come to {film.seconds:.1f} s"
        raise ArithmeticError(message)
    return film.planned()


def _rates(films: Sequence[Reel]) -> Rates:
    return Rates(abreast([film.nodes for film in films]), np.array([film.pumping.overflow for film in films]))


def _rows(lying: _Lying, rows: list[int]) -> _Lying:
    return _Lying(*(array[rows] for array in lying))


def _begun(films: Sequence[Reel]) -> _Lying:
    """How the water of films lies that begin."""
    rates = _rates(films)
    held, highest = (np.array(arrays) for arrays in zip(*((film.held, film.highest) for film in films), strict=True))
    now = rates.water(held, highest)
    lying = _Lying(held, highest, _gains(films, now.flow, held), *rates.changes(now, held))
    _look(films, range(len(films)), now.flow, lying)
    return lying


def _gains(films: Sequence[Reel], flow: FloatArray, held: FloatArray) -> FloatArray:
    """What every node gains in a second (k, m), m3/s."""
    gains = -flow
    gains[:, 1:] += flow[:, :-1]
    hoses, reservoirs = held[:, HOSE].tolist(), held[:, RESERVOIR].tolist()
    for row, film in enumerate(films):
        moved = film.moved(hoses[row], reservoirs[row])
        gains[row, film.fills] += moved
        gains[row, RESERVOIR] -= moved
    return gains


def _look(films: Sequence[Reel], rows: Sequence[int], flow: FloatArray, lying: _Lying) -> None:
    """Keep a frame of every film in these rows, turn what is to be turned, and end it or plan its next step."""
    hoses, reservoirs = lying.held[:, HOSE].tolist(), lying.held[:, RESERVOIR].tolist()
    turned = []
    for row in rows:
        film, frame = films[row], (lying.held[row], flow[row], reservoirs[row])
        film.keep(*frame)
        if film.switch(hoses[row], reservoirs[row]):
            film.keep(*frame)
            turned.append(row)
    if turned:
        lying.gains[turned] = _gains([films[row] for row in turned], flow[turned], lying.held[turned])
    filling, rising = lying.gains[:, HOSE].tolist(), lying.gains[:, RESERVOIR].tolist()
    for row in rows:
        film = films[row]
        film.highest = lying.highest[row]
        if not film.ends(flow[row], lying.gains[row], reservoirs[row]):
            film.plan(hoses[row], reservoirs[row], filling[row], rising[row])
