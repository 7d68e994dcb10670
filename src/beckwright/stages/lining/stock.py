"""Lengths cut from rolls of one length with as few rolls as can be."""

from collections import Counter
from collections.abc import Iterator, Sequence

import numpy as np

from beckwright.base.quantities import Length

PATTERNS_MOST = 20_000
"""More ways than this to fill a roll are not looked through."""
SECONDS = 2.0
_CLOSE = 1e-9

Pattern = tuple[int, ...]


def fewest_rolls(lengths: Sequence[Length], roll: Length) -> tuple[tuple[tuple[Length, ...], ...], bool]:
    """Lengths on each roll, and whether fewer rolls are ruled out. None may be longer than a roll.

    First-fit decreasing, at most 11/9 of the fewest and 2/3 of a roll (Dosa 2007); where that is more than the plain
    sum asks for, every way to fill a roll is written down and the best mix of them found exactly.
    """
    first = first_fit(lengths, roll)
    if len(first) <= least_rolls(lengths, roll):
        return first, True
    kinds = sorted(set(lengths), reverse=True)
    wanted = [Counter(lengths)[kind] for kind in kinds]
    patterns = _patterns(kinds, wanted, roll)
    if patterns is None:
        return first, False
    mixed = _mix(kinds, wanted, patterns)
    return (mixed, True) if mixed is not None and len(mixed) <= len(first) else (first, False)


def least_rolls(lengths: Sequence[Length], roll: Length) -> int:
    """No fewer rolls hold this much."""
    return int(np.ceil(sum(lengths) / roll - _CLOSE))


def first_fit(lengths: Sequence[Length], roll: Length) -> tuple[tuple[Length, ...], ...]:
    """The longest first, each on the first roll it fits on."""
    rolls: list[list[Length]] = []
    for length in sorted(lengths, reverse=True):
        home = next((held for held in rolls if sum(held) + length <= roll + _CLOSE), None)
        if home is None:
            rolls.append([length])
        else:
            home.append(length)
    return tuple(map(tuple, rolls))


def _patterns(kinds: Sequence[Length], wanted: Sequence[int], roll: Length) -> list[Pattern] | None:
    """Every way to fill a roll so that nothing more fits on it; None where there are too many."""
    found: list[Pattern] = []
    for pattern in _fillings(kinds, wanted, roll):
        found.append(pattern)
        if len(found) > PATTERNS_MOST:
            return None
    return found


def _fillings(kinds: Sequence[Length], wanted: Sequence[int], room: Length) -> Iterator[Pattern]:
    if len(kinds) == 1:
        yield (min(wanted[0], int(room / kinds[0] + _CLOSE)),)
        return
    for count in range(min(wanted[0], int(room / kinds[0] + _CLOSE)), -1, -1):
        for rest in _fillings(kinds[1:], wanted[1:], room - count * kinds[0]):
            yield (count, *rest)


def _mix(
    kinds: Sequence[Length], wanted: Sequence[int], patterns: Sequence[Pattern]
) -> tuple[tuple[Length, ...], ...] | None:
    from scipy.optimize import Bounds, LinearConstraint, milp

    made = np.array(patterns, dtype=float).T
    found = milp(
        np.ones(len(patterns)),
        constraints=LinearConstraint(made, lb=np.array(wanted, dtype=float)),
        integrality=np.ones(len(patterns), dtype=np.int64),
        bounds=Bounds(0.0, np.inf),
        options={"time_limit": SECONDS},
    )
    if found.status != 0:
        return None
    return _handed_out(kinds, wanted, patterns, np.round(found.x).astype(int).tolist())


def _handed_out(
    kinds: Sequence[Length], wanted: Sequence[int], patterns: Sequence[Pattern], times: Sequence[int]
) -> tuple[tuple[Length, ...], ...]:
    """Rolls with what they are cut into; what a pattern would cut too many of is left on the roll."""
    left, rolls = list(wanted), []
    for pattern, count in zip(patterns, times, strict=True):
        for _ in range(count):
            cut: list[Length] = []
            for kind, most in enumerate(pattern):
                taken = min(most, left[kind])
                left[kind] -= taken
                cut += [kinds[kind]] * taken
            if cut:
                rolls.append(tuple(cut))
    return tuple(rolls)
