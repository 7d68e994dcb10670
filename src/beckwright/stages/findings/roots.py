"""Works inside the root circles of trees: what is there, and what would spare the roots."""

from collections.abc import Iterator

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.words import chainages, metres, millimetres, opening, with_unit
from beckwright.stages.surroundings import RootCircle, Shift
from beckwright.stages.surroundings.plane import total
from beckwright.tables.trees import ROOT_KEPT, SHIFT_MOST, STEM_CLEARANCE


def root_findings(circle: RootCircle) -> Iterator[Finding]:
    """Works inside one root circle."""
    tree, spans = circle.tree, circle.inside or circle.works
    where = ", ".join(chainages(*span) for span in spans)
    works = [f"{'' if circle.inside else 'bank, '}{where}"] * bool(spans)
    works += ["reservoir pit"] * circle.pit
    works += [f"hose trench for {metres(total(circle.hose_spans))}"] * circle.hose
    if not works:
        return
    yield Finding(
        severity=Severity.FAIL if tree.protected and (circle.raised or circle.pit) else Severity.CAUTION,
        code="inside-root-circle",
        place=f"Inside the {tree.species}'s root circle ({tree.name}, {metres(circle.radius)}): {', '.join(works)}",
        says=f"{_standing(circle)} {_measured(circle)}".rstrip(),
        cure=_spare_roots(circle),
        source="BS 5837:2012 4.6.1 (UK); local rules come first",
        chainage=spans[0] if spans else (),
        figure=dotted("trees", tree.name, "root_radius"),
    )


def _standing(circle: RootCircle) -> str:
    if circle.tree.protected:
        return "It is protected: no work without consent."
    return "Its roots need this ground."


def _measured(circle: RootCircle) -> str:
    """What is dug and raised inside, and how near the stem."""
    told = [f"dug up to {millimetres(circle.deepest)} over {_square(circle.dug)}"] * (circle.deepest > 0)
    told += [f"the ground raised up to {millimetres(circle.highest)}"] * bool(circle.raised)
    told += [f"{_square(circle.pit_area)} of the pit"] * circle.pit
    says = f"There: {', '.join(told)}." if told else ""
    if circle.works and circle.closest < STEM_CLEARANCE.amount:
        says += f" The dig comes within {metres(circle.closest)} of the stem; {metres(STEM_CLEARANCE.amount)} is kept."
    return says


def _spare_roots(circle: RootCircle) -> str:
    away = [_shifted(circle.shift)] if circle.shift is not None else []
    away += [f"move the pit {metres(circle.pit_into)} away"] * circle.pit
    away += ["lead the hose round it"] * circle.hose
    ask = "Ask the tree officer before any work. " if circle.tree.protected else ""
    stuck = bool(circle.works) and circle.shift is None
    none = f"No shift of the line up to {metres(SHIFT_MOST.amount)} clears it: redraw it. " if stuck else ""
    move = f"{opening(' and '.join(away))}. " if away else ""
    length = f" those {metres(circle.by_hand)}" if circle.by_hand else ""
    return (
        f"{ask}{move}{none}Otherwise dig{length} by hand as an arboriculturist says, raise no soil, and cut no root "
        f"over {millimetres(ROOT_KEPT.amount)}."
    )


def _shifted(shift: Shift) -> str:
    side = "left" if shift.offset > 0 else "right"
    before, after = (metres(length) for length in shift.ease)
    return (
        f"shift the line {metres(abs(shift.offset))} to the {side}, {chainages(shift.start, shift.end)}, "
        f"easing out over {before} and back over {after}"
    )


def _square(area: float) -> str:
    return f"{with_unit(area, 'm²'):,.1f}"
