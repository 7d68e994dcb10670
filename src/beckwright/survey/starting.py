"""Where points lie, near enough to begin with: tape by tape, and on which side. What cannot be told is asked."""

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray, Length
from beckwright.base.values import value
from beckwright.equations.taping import tie_across, tie_along, tie_cosine
from beckwright.job.tables import CLOSEST
from beckwright.job.wording.sentences import shown
from beckwright.survey.observed import Observation, computed
from beckwright.survey.quantities import row_problem
from beckwright.survey.tapes import Side, Tapes
from beckwright.tables.levelling import TEST_LIMIT

Places = dict[str, FloatArray]


@value
class _Tie:
    """A tape to a point that is sought, from one that is placed."""

    other: str
    place: FloatArray
    tape: Observation


def starting_places(tapes: Tapes, observed: Sequence[Observation]) -> Places:
    """A place for every point, (2,) each, from those that are held.

    Points are placed one from another until none is left: by an offset, or by two tapes with the side known from a
    word of it or from a third tape. JobError with a question for every point whose side nothing tells.
    """
    search = _Search(tapes, observed)
    before = -1
    while before != len(search.places):
        before = len(search.places)
        for name in search.left():
            search.place(name)
    problems = [problem for name in search.left() for problem in search.why_not(name)]
    if problems:
        # What is out of reach may only hang on what is asked.
        raise JobError([one for causes, one in problems if causes] or [one for _, one in problems])
    return search.places


def left_of(side: Side, places: Places, place: FloatArray) -> Length:
    """How far a place lies left of a line as one walks it, m; negative to the right."""
    start, end = places[side.start], places[side.end]
    ahead, reach = end - start, place - start
    return float(ahead[0] * reach[1] - ahead[1] * reach[0]) / math.dist(start, end)


class _Search:
    """The points placed so far, and how the next is found."""

    def __init__(self, tapes: Tapes, observed: Sequence[Observation]) -> None:
        self.file, self.sides, self.observed = tapes.file, tapes.sides, observed
        self.places: Places = {mark.point: np.array([mark.x, mark.y]) for mark in tapes.marks}
        if not tapes.marks:
            base = next(one for one in observed if one.measure == "tape")
            self.places = {base.points[0]: np.zeros(2), base.points[1]: np.array([base.amount, 0.0])}
        self.names = tuple(dict.fromkeys(point for one in observed for point in one.points))

    def left(self) -> list[str]:
        """Names not placed yet, in the order of the book."""
        return [name for name in self.names if name not in self.places]

    def place(self, name: str) -> None:
        """Place a point if it can be told where."""
        pair = _pair(self._ties(name))
        found = self._by_offset(name)
        if found is None and pair:
            found = self._chosen(name, *_two_places(*pair))
        if found is not None:
            self._refuse_twin(name, found)
            self.places[name] = found

    def _refuse_twin(self, name: str, place: FloatArray) -> None:
        """Two names for one place leave lines without a direction."""
        twin = next((other for other, there in self.places.items() if math.dist(there, place) < CLOSEST), None)
        if twin is not None:
            found, rule = f"{shown(name)} falls on {shown(twin)}", "Points lie apart, and one place has one name"
            remedy = "Mend one of its tapes, or give both one name"
            raise JobError([Problem(place=self.file, found=found, rule=rule, remedy=remedy)])

    def why_not(self, name: str) -> Iterator[tuple[bool, Problem]]:
        """Why a point has no place, and whether that is a cause and not a consequence."""
        ties = self._ties(name)
        pair = _pair(ties)
        if pair:
            yield True, self._asked(name, *pair)
        elif len(ties) > 1:
            yield True, self._short(name, *ties[:2])
        else:
            held = f"{shown(name)} is tied to {shown(ties[0].other) if ties else 'no placed point'}"
            rule, remedy = "A point needs two tapes from placed points, or an offset from a line", "Tape it once more"
            yield False, Problem(place=self.file, found=held, rule=rule, remedy=remedy)

    def _asked(self, name: str, one: _Tie, other: _Tie) -> Problem:
        point, start, end = shown(name), shown(one.other), shown(other.other)
        found = f"the tapes from {start} and {end} meet on both sides of their line, and nothing tells where {point} is"
        rule = f"Is {point} on the left or on the right as one walks from {start} to {end}? That is never guessed"
        remedy = "Answer in a row with from, to, point and side, or tape it from a third point"
        return row_problem(self.file, other.tape.line, found, rule, remedy)

    def _short(self, name: str, one: _Tie, other: _Tie) -> Problem:
        found = (
            f"{one.tape.amount:.3f} m from {shown(one.other)} and {other.tape.amount:.3f} m from {shown(other.other)} "
            f"do not meet in {shown(name)}"
        )
        rule = f"{shown(one.other)} and {shown(other.other)} lie {math.dist(one.place, other.place):.3f} m apart"
        remedy = f"Mend it, or line {one.tape.line}, or tape them again"
        return row_problem(self.file, other.tape.line, found, rule, remedy)

    def _by_offset(self, name: str) -> FloatArray | None:
        found = {
            one.measure: one
            for one in self.observed
            if one.points[2:] == (name,) and all(point in self.places for point in one.points[:2])
        }
        if not found:
            return None
        start, end = (self.places[point] for point in found["along"].points[:2])
        ahead: FloatArray = (end - start) / math.dist(start, end)
        across = np.array([-ahead[1], ahead[0]])
        return start + found["along"].amount * ahead + found["offset"].amount * across

    def _ties(self, name: str) -> list[_Tie]:
        """Tapes to a point from placed points, the first of each."""
        ties: dict[str, _Tie] = {}
        for one in self.observed:
            if one.measure == "tape" and name in one.points:
                other = one.points[0] if one.points[1] == name else one.points[1]
                if other in self.places:
                    ties.setdefault(other, _Tie(other=other, place=self.places[other], tape=one))
        return list(ties.values())

    def _chosen(self, name: str, left: FloatArray, right: FloatArray) -> FloatArray | None:
        """The place a word or a third tape decides for; None where neither does."""
        if np.array_equal(left, right):
            return left
        for side in self.sides:
            if side.point == name and side.start in self.places and side.end in self.places:
                told = left_of(side, self.places, left) > 0
                if told != (left_of(side, self.places, right) > 0):
                    return left if told == side.left else right
        misfits = self._misfit(name, left), self._misfit(name, right)
        if abs(misfits[0] - misfits[1]) <= 2 * TEST_LIMIT.amount:
            return None
        return left if misfits[0] < misfits[1] else right

    def _misfit(self, name: str, place: FloatArray) -> float:
        """How far what was measured to a point is from what it would be there, in standard deviations."""
        there = {**self.places, name: place}
        reachable = [one for one in self.observed if name in one.points and all(point in there for point in one.points)]
        return math.hypot(
            *(
                (one.amount - computed(one, np.array([there[point] for point in one.points]))) / one.sigma
                for one in reachable
            )
        )


def _pair(ties: list[_Tie]) -> tuple[_Tie, _Tie] | None:
    """The two tapes that meet nearest to square; None where no two meet."""
    meeting = [(one, other) for one, other in combinations(ties, 2) if _meet(one, other)]
    return min(meeting, key=lambda pair: abs(_cosine(*pair)), default=None)


def _meet(one: _Tie, other: _Tie) -> bool:
    """Whether two tapes reach each other, but for what they may be out by."""
    apart = math.dist(one.place, other.place)
    may = TEST_LIMIT.amount * (one.tape.sigma + other.tape.sigma)
    longest, shortest = one.tape.amount + other.tape.amount, abs(one.tape.amount - other.tape.amount)
    return apart > 0 and shortest - may <= apart <= longest + may


def _cosine(one: _Tie, other: _Tie) -> float:
    return tie_cosine(math.dist(one.place, other.place), one.tape.amount, other.tape.amount)


def _two_places(one: _Tie, other: _Tie) -> tuple[FloatArray, FloatArray]:
    """Where two tapes meet, left and right of the line from one to the other; on it where they just reach."""
    base = math.dist(one.place, other.place)
    along: Length = tie_along(base, one.tape.amount, other.tape.amount)
    across: Length = tie_across(one.tape.amount, along) if abs(along) < one.tape.amount else 0.0
    ahead = (other.place - one.place) / base
    foot, aside = one.place + along * ahead, across * np.array([-ahead[1], ahead[0]])
    return foot + aside, foot - aside
