"""The lining: laps under water, pieces too heavy, rolls too narrow, splash beyond the sheet, a joint at the box."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import Length, Mass
from beckwright.base.tabled import Tabled
from beckwright.base.words import chainages, metres, millimetres, number_in, opening, share, with_unit
from beckwright.equations.lining import sheet_density, team_carries
from beckwright.job.model import Job
from beckwright.stages.lining.carry import told_mass
from beckwright.stages.lining.plan import cut_length
from beckwright.stages.lining.rolls import PIT
from beckwright.stages.lining.values import Lap, Lining, Piece, Splash
from beckwright.tables.falls import SPLASH
from beckwright.tables.lining import (
    CARRIED,
    GORES_FROM,
    LAP_BONDED,
    LOOSE_SLOPE,
    SHEET_DENSITY,
    STRAIN_MOST,
    TEAM_SHARE,
)
from beckwright.tables.practice import LAP_HEIGHT, LAP_LOOSE

_SEEN: Length = 0.005


def lining_findings(job: Job, lining: Lining) -> tuple[Finding, ...]:
    """Findings on the lining, each kind once where it can be."""
    return (
        *_rolls(job, lining),
        *_laps(job, lining),
        *_lap_length(job, lining),
        *_narrow(lining),
        *_heavy(job, lining),
        *_splash(job, lining),
        *_bends(lining),
        *_gores(lining),
        *_box(job),
        *_mass(job),
    )


def _rolls(job: Job, lining: Lining) -> Iterator[Finding]:
    """Nobody told the rolls, or none of them serves."""
    piece = lining.pieces[0]
    if piece.roll is not None:
        return
    told = bool(job.lining.rolls)
    says = (
        f"No piece of {metres(job.lining.roll_length or 0.0)} reaches from one place for a lap to the next."
        if told
        else "Nobody has said which rolls are on offer."
    )
    ask = "Ask for longer rolls" if told else "Ask the supplier, write lining.rolls_m"
    yield Finding(
        severity=Severity.CAUTION,
        code="lining-by-need",
        place="Lining over the course",
        says=f"{says} One sheet by need alone: {metres(piece.length)} x {metres(piece.width)}, "
        f"{told_mass(piece.mass)}.",
        cure=f"{ask} and plan again before ordering.",
        source="job.toml lining",
        figure="lining.course.bought",
    )


def _laps(job: Job, lining: Lining) -> Iterator[Finding]:
    """Laps that water stands over: worth nothing unless bonded."""
    low = [lap for lap in lining.laps if lap.height < LAP_HEIGHT.amount]
    if not low:
        return
    worst = min(low, key=lambda lap: lap.height)
    must = [lap for lap in lining.laps if lap.bonded] if lining.join == "loose" else []
    asked = f" Loose laps were asked for; {len(must)} of {len(lining.laps)} must be bonded." if must else ""
    stands = f"{millimetres(-worst.height)} under" if worst.height < 0 else f"only {millimetres(worst.height)} over"
    yield Finding(
        severity=Severity.CAUTION if must else Severity.NOTE,
        code="lap-under-water",
        place=f"{_count(len(low), 'lap')}, {_where(low)}",
        says=f"The hidden end of a lower sheet lies {stands} the running water where it is worst; a loose lap wants "
        f"{millimetres(LAP_HEIGHT.amount)} over it and a fall of 1 in {1 / LOOSE_SLOPE.amount:.0f}.{asked}",
        cure=f"Bond {metres(sum(lap.across for lap in low))} of seam, and flood every lap before any stone goes on.",
        source=f"common practice: {LAP_HEIGHT.place}; {LOOSE_SLOPE.place}",
        chainage=(low[0].chainage[0], low[-1].chainage[1]),
        figure=dotted("lining", "laps", "1", "height"),
    )


def _lap_length(job: Job, lining: Lining) -> Iterator[Finding]:
    """Laps drawn shorter than the trade makes them."""
    loose = any(not lap.bonded for lap in lining.laps)
    row: Tabled = LAP_LOOSE if loose else LAP_BONDED
    if not lining.laps or job.layers.lap >= row.amount - 1e-9:
        return
    yield Finding(
        severity=Severity.CAUTION if job.layers.lap < row.low else Severity.NOTE,
        code="lap-short",
        place="Laps of the lining",
        says=f"{millimetres(job.layers.lap)} long; {millimetres(row.low)} to {millimetres(row.high)} is common.",
        cure=f"Write layers.lap_mm = {row.amount * 1000:.0f}.",
        source=f"common practice: {row.place}",
    )


def _narrow(lining: Lining) -> Iterator[Finding]:
    joined = [piece for piece in lining.pieces if piece.strips > 1]
    if not joined:
        return
    seam, widest = sum(piece.seam for piece in joined), max(piece.size[1] for piece in joined)
    yield Finding(
        severity=Severity.NOTE,
        code="roll-narrow",
        place=f"Pieces {', '.join(piece.letter for piece in reversed(joined))}",
        says=f"Each is joined from strips of a roll, {metres(seam)} of seam along the flow; the widest girth is "
        f"{metres(float(lining.girths.max()))}.",
        cure=f"Bond the strips on dry flat ground before laying, or ask for a roll {metres(widest)} wide.",
        source="common practice: seams along the flow, never at the foot of a fall",
        chainage=(joined[0].chainage[0], joined[-1].chainage[1]),
    )


def _heavy(job: Job, lining: Lining) -> Iterator[Finding]:
    """What the people of the crew should not carry between them."""
    people = job.force.people
    carried = most_carried(people)
    heavy: list[Piece] = [piece for piece in lining.pieces if piece.mass > carried]
    masses = {piece.letter: piece.mass for piece in heavy}
    if lining.pit.mass > carried:
        masses[PIT] = lining.pit.mass
    if not masses:
        return
    letter, most = max(masses.items(), key=lambda pair: pair[1])
    yield Finding(
        severity=Severity.CAUTION,
        code="piece-heavy",
        place=f"Lining, {'pieces' if len(masses) > 1 else 'piece'} {', '.join(sorted(masses))}",
        says=f"{letter} weighs {told_mass(most)}; {_count(people, 'person', 'people')} carry "
        f"{number_in(_carried(people, CARRIED.low), 'kg'):,.0f} to {with_unit(carried, 'kg'):,.0f} "
        "before it wants a closer look.",
        cure=_lighter(job, heavy, carried),
        source=f"HSE L23: {CARRIED.place}; {TEAM_SHARE[min(people, max(TEAM_SHARE))].place}",
        figure="lining.pit.mass" if letter == PIT else dotted("lining", "pieces", letter, "mass"),
    )


def _up(length: Length) -> Length:
    """To the next 50 mm."""
    return float(cut_length(np.array(length)))


def _lighter(job: Job, heavy: list[Piece], carried: Mass) -> str:
    trolley = "Move it by trolley or machine, or roll it out from the lorry"
    if not heavy or heavy[0].roll is None or not all(piece.along for piece in heavy):
        return f"{trolley}."
    widest = max(piece.strips * (piece.roll or 0.0) for piece in heavy)
    length = float(np.floor(carried / (job.layers.lining_mass * widest) * 10)) / 10
    return f"{trolley}; or write lining.roll_length_m = {length:.1f} for pieces that can be carried."


def most_carried(people: int) -> Mass:
    """What so many strong carriers manage by the filter values; more than three count as three."""
    return _carried(people, CARRIED.high)


def _carried(people: int, each: Mass) -> Mass:
    team = min(people, max(TEAM_SHARE))
    return team_carries(team, each, TEAM_SHARE[team].amount)


def _splash(job: Job, lining: Lining) -> Iterator[Finding]:
    widened = [each for each in lining.splashes if each.widened > _SEEN]
    if widened:
        most = max(widened, key=lambda each: each.widened)
        yield _splashed(
            widened,
            "splash-widens-sheet",
            f"{millimetres(job.layers.edge_allowance)} over the edge is too little for the splash of "
            f"{most.place}: the sheet is cut {millimetres(most.widened)} wider there.",
            "Keep that width when trimming, and turn it up behind the stones.",
            Severity.NOTE,
        )
    short = [each for each in lining.splashes if each.windward > each.reach + _SEEN]
    if short:
        most = max(short, key=lambda each: each.windward - each.reach)
        lacking = most.windward - most.reach
        yield _splashed(
            short,
            "splash-to-windward",
            f"Below {most.place} the lining reaches {metres(most.reach)} from the middle; {metres(most.windward)} is "
            "wanted on the windward side.",
            f"Lay an apron {millimetres(_up(lacking), up=True)} wider there, to windward, or plant a screen.",
            Severity.NOTE,
        )


def _splashed(places: list[Splash], code: str, says: str, cure: str, severity: Severity) -> Finding:
    names = list(dict.fromkeys(each.place for each in places))
    return Finding(
        severity=severity,
        code=code,
        place=f"Below {', '.join(names)}",
        says=says,
        cure=cure,
        source=f"common practice: {SPLASH.place}",
        chainage=(places[0].chainage, places[-1].chainage),
    )


def _bends(lining: Lining) -> Iterator[Finding]:
    """Why no roll is simply led down the stream."""
    tight = [bend for bend in lining.bends if bend.strain > STRAIN_MOST.amount]
    if not tight:
        return
    worst = max(tight, key=lambda bend: bend.difference)
    taken = sum(fold.taken_up for fold in lining.folds)
    yield Finding(
        severity=Severity.NOTE,
        code="lining-at-bends",
        place=f"Lining at {_count(len(tight), 'bend')}, {chainages(tight[0].start, tight[-1].end)}",
        says=f"Led round from {number_in(worst.start, 'm'):.1f} to {with_unit(worst.end, 'm'):.1f}, the "
        "outside of a straight sheet would have to be "
        f"{metres(worst.difference)} longer than its inside, {share(worst.strain)} of the edge there; "
        f"{share(STRAIN_MOST.amount)} is the most it may stretch.",
        cure=f"Lay each piece as cut, and pleats where drawn: {metres(taken)} in all, straight up the bank, flap "
        "downstream. Pull nothing taut.",
        source=f"common practice: {STRAIN_MOST.place}",
        chainage=(tight[0].start, tight[-1].end),
        figure=dotted("lining", "bends", "1", "difference"),
    )


def _gores(lining: Lining) -> Iterator[Finding]:
    """Banks where pleats would lie on each other."""
    cut = [fold for fold in lining.folds if fold.gores]
    if not cut:
        return
    worst = max(cut, key=lambda fold: fold.taken_up)
    yield Finding(
        severity=Severity.CAUTION,
        code="lining-gores",
        place=f"{opening(worst.side)} bank of {worst.place}, {chainages(worst.start, worst.end)}",
        says=f"{metres(worst.taken_up)} of sheet to lose there, over {share(GORES_FROM.amount)} of its length: pleats "
        f"would lie on each other. {_count(len(cut), 'bank')} like this.",
        cure=f"Cut {_count(worst.count, 'wedge')} {millimetres(2 * worst.flap)} wide at the edge, to a point above the "
        "running water, and bond each over a strip; or draw a wider bend.",
        source=f"assumed: {GORES_FROM.place}",
        chainage=(worst.start, worst.end),
    )


def _box(job: Job) -> Iterator[Finding]:
    if job.lining.under_box:
        return
    yield Finding(
        severity=Severity.CAUTION,
        code="no-lining-under-box",
        place="Outlet box",
        says="No lining runs under it: whatever leaks or spills over its back is lost behind the lining.",
        cure="Write lining.under_box = true, or clamp and seal the lining to the box's front over its whole width.",
        source="common practice: a box stands inside the lining",
        chainage=(0.0, 0.0),
    )


def _mass(job: Job) -> Iterator[Finding]:
    density = sheet_density(job.layers.lining_mass, job.layers.lining)
    if 0.8 * SHEET_DENSITY.low <= density <= 1.2 * SHEET_DENSITY.high:
        return
    wanted = SHEET_DENSITY.amount * job.layers.lining
    yield Finding(
        severity=Severity.NOTE,
        code="lining-mass",
        place="Weight of the lining",
        says=f"{with_unit(job.layers.lining_mass, 'kg/m²'):g} at "
        f"{with_unit(job.layers.lining * 1000, 'mm'):g} is {with_unit(density, 'kg/m³'):,.0f}; rubber "
        f"sheet is {number_in(SHEET_DENSITY.low, 'kg/m³'):,.0f} to {number_in(SHEET_DENSITY.high, 'kg/m³'):,.0f}.",
        cure=f"Read both off the roll; {with_unit(wanted, 'kg/m²'):.2f} would be usual for rubber of that thickness.",
        source=SHEET_DENSITY.place,
    )


def _count(number: int, one: str, many: str = "") -> str:
    return f"{number} {one if number == 1 else many or f'{one}s'}"


def _where(laps: list[Lap]) -> str:
    return chainages(laps[0].chainage[0], laps[-1].chainage[1])
