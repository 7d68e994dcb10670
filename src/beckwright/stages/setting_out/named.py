"""Every spot by its name."""

from collections.abc import Iterator

from beckwright.job.model import Mark
from beckwright.stages.setting_out.tapes import flatness, short_name
from beckwright.stages.setting_out.values import Peg, PitSetOut, SettingOut, Spot


def named_spots(pegs: tuple[Peg, ...], pit: PitSetOut) -> Iterator[tuple[str, Spot]]:
    """Left peg, spot on the line and right peg of each number, then the pit's floor corners and pegs."""
    for peg in pegs:
        for side, spot in ((" L", peg.left.spot), ("", peg.spot), (" R", peg.right.spot)):
            yield f"{peg.number}{side}", spot
    for corner in pit.corners:
        yield f"pit {corner.name}", corner.floor
    for line in pit.pegs:
        yield f"pit {line.name}", line.spot


def worst_taped(setting_out: SettingOut) -> tuple[str, Spot, tuple[Mark, Mark]] | None:
    """Name and spot whose two tapes meet flattest, with their marks; None below two marks."""
    if len(setting_out.marks) < 2:
        return None
    by_name = {short_name(mark, setting_out.marks): mark for mark in setting_out.marks}
    taped = [
        (flatness(spot.tapes), name, spot, (by_name[spot.tapes.first.mark], by_name[spot.tapes.second.mark]))
        for name, spot in named_spots(setting_out.pegs, setting_out.pit)
        if spot.tapes is not None
    ]
    _, name, spot, marks = min(taped, key=lambda each: each[0])
    return name, spot, marks
