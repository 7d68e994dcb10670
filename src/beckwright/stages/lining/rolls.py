"""Which piece comes off which roll."""

from collections import defaultdict

from beckwright.base.quantities import Length
from beckwright.job.model import Job
from beckwright.stages.lining.stock import fewest_rolls
from beckwright.stages.lining.values import Cut, Piece, PitSheet, Roll

PIT = "R"
"""Letter of the reservoir's sheet."""


def cut_rolls(job: Job, pieces: tuple[Piece, ...], pit: PitSheet) -> tuple[Roll, ...]:
    """All that is cut from each width, the narrowest first; empty where nobody said what rolls there are."""
    wanted: dict[Length, list[tuple[Length, str]]] = defaultdict(list)
    for piece in pieces:
        if piece.roll is not None:
            wanted[piece.roll] += [(piece.length, name) for name in _names(piece.letter, piece.strips)]
    if pit.roll is not None:
        wanted[pit.roll] += [(pit.along, name) for name in _names(PIT, pit.strips)]
    return tuple(_roll(width, wanted[width], job.lining.roll_length) for width in sorted(wanted))


def _names(letter: str, strips: int) -> list[str]:
    return [letter] if strips == 1 else [f"{letter}{number}" for number in range(1, strips + 1)]


def _roll(width: Length, wanted: list[tuple[Length, str]], length: Length | None) -> Roll:
    if length is None:
        order = sorted(wanted, key=lambda each: each[1])
        cut = Cut(letters=tuple(name for _, name in order), lengths=tuple(each for each, _ in order), left=0.0)
        return Roll(width=width, cuts=(cut,), exact=True)
    rolls, exact = fewest_rolls([each for each, _ in wanted], length)
    waiting: dict[Length, list[str]] = defaultdict(list)
    for each, name in sorted(wanted, key=lambda pair: pair[1]):
        waiting[each].append(name)
    cuts = tuple(
        Cut(letters=tuple(waiting[each].pop(0) for each in held), lengths=held, left=length - sum(held))
        for held in rolls
    )
    return Roll(width=width, cuts=cuts, exact=exact)
