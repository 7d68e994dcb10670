"""Figures of lips and falls: when a sheet breaks free, how it shares itself, where it lands, what it loses."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import Figure, Input, dotted
from beckwright.base.published import Equation, Grade
from beckwright.equations.drops import (
    basin_length,
    drop_number,
    energy_over_floor,
    free_fall_distance,
    jump_length,
    mean_velocity,
    nappe_length,
    nappe_limit,
    relative_critical_depth,
    share_lost,
    skimming_limit,
    tailwater_depth,
    toe_depth,
)
from beckwright.equations.lips import (
    HEAD_ADDITION,
    drowned_share,
    flow_share,
    lip_flow,
    lip_head,
    lip_width,
    sloping_lip_flow,
)
from beckwright.equations.open_channel import specific_energy
from beckwright.equations.pump import hydraulic_power
from beckwright.equations.sound import louder_by
from beckwright.figures.make import by, told, worked
from beckwright.figures.water import ends_of
from beckwright.job.model import Job
from beckwright.stages.falls import Fall, Sheet
from beckwright.stages.water import Water
from beckwright.stages.water.beds import MIDDLE
from beckwright.tables.falls import DROP_LAW, LIP_TILTS, SPLASH
from beckwright.tables.lips import LIP_COEFFICIENTS
from beckwright.tables.practice import SHEET_CLINGS

RAND_NOTE = "the drop laws were measured on larger falls; band by judgement"


def fall_figures(job: Job, water: Water, falls: tuple[Fall, ...], main: str) -> Iterator[Figure]:
    """Every lip; its fall at the largest flow, its tilts at the smallest, where each shows most.

    main  the flow that loudness is compared with
    """
    for fall in falls:
        yield from _sheet_breaks_free(job, water, fall)
        yield from _tilts(job, water, fall, int(np.argmin(water.flows)))
        for number in range(len(water.names)):
            yield _louder(job, water, fall, number, main)
        if fall.sheet is not None:
            yield from _steps(job, fall, fall.sheet)
            largest = int(np.argmax(water.flows))
            yield from _drowned(job, water, fall, fall.sheet, largest)
            yield from _lands(job, water, fall, fall.sheet, largest)
            yield from _jumps(job, water, fall, fall.sheet, largest)
            loses = _loses_drowned if fall.lip.tailwater[MIDDLE, largest] >= 0 else _loses
            yield from loses(job, water, fall, fall.sheet, largest)


def _sheet_breaks_free(job: Job, water: Water, fall: Fall) -> Iterator[Figure]:
    lip = fall.lip
    yield worked(
        job,
        dotted("fall", lip.name, "free_flow"),
        f"Least flow at which the sheet breaks free of {lip.name}",
        fall.free_flow[-1],
        by(
            lip_flow,
            unit_flow=(SHEET_CLINGS.high, "table: practice, sheet clings, high end"),
            width=(lip.width, "job: lip_width_mm"),
        ),
        ends=(float(fall.free_flow[0]), float(fall.free_flow[-1])),
        grade=SHEET_CLINGS.grade,
        note=SHEET_CLINGS.place,
    )
    for number, flow in enumerate(water.names):
        yield worked(
            job,
            dotted("fall", lip.name, flow, "free_width"),
            f"Widest {lip.name} over which the sheet breaks free at {flow}",
            fall.free_width[0, number],
            by(
                lip_width,
                flow=(float(water.flows[number]), f"job: flows.{flow}"),
                unit_flow=(SHEET_CLINGS.high, "table: practice, sheet clings, high end"),
            ),
            ends=(float(fall.free_width[0, number]), float(fall.free_width[-1, number])),
            grade=SHEET_CLINGS.grade,
        )


def _tilts(job: Job, water: Water, fall: Fall, number: int) -> Iterator[Figure]:
    """At the smallest flow, where a lip out of level shows most."""
    lip, flow, tilt, row = fall.lip, water.names[number], fall.tilt, LIP_COEFFICIENTS[fall.lip.kind]
    for place, name in enumerate(LIP_TILTS):
        stem = dotted("fall", lip.name, flow, f"tilt {name}")
        where = f"{lip.name} {name} out of level across, at {flow}"
        half, middle = float(tilt.tilts[place]) / 2, float(tilt.middle[MIDDLE, place, number])
        deep, shallow = middle + half, max(middle, -HEAD_ADDITION)
        yield told(
            f"{stem}.head",
            f"Water over the middle of the crest, {where}",
            middle,
            "m",
            ends=ends_of(tilt.middle[:, place, number]),
            source="lip law summed along the crest",
            note="found by trial so that both halves carry the flow; less than 0 where it lies under the crest",
            grade=row.grade,
        )
        wet = lip.width / 2 * (deep - shallow) / half
        part = sloping_lip_flow(row.amount, wet, deep, shallow)
        yield worked(
            job,
            f"{stem}.low_flow",
            f"Flow over the lower half, {where}",
            part,
            by(
                sloping_lip_flow,
                coefficient=(row.amount, f"table: lips, {lip.kind}"),
                width=(wet, "wet part of half the lip"),
                deep_head=(deep, f"{stem}.head and half the tilt"),
                shallow_head=(shallow, f"{stem}.head, not under -1 mm"),
            ),
            grade=row.grade,
        )
        yield worked(
            job,
            f"{stem}.low_share",
            f"Share over the lower half, {where}",
            tilt.low_half[MIDDLE, place, number],
            by(flow_share, part=(part, f"{stem}.low_flow"), whole=(float(water.flows[number]), f"job: flows.{flow}")),
            ends=ends_of(tilt.low_half[:, place, number]),
            grade=row.grade,
            note=f"{tilt.dry[MIDDLE, place, number]:.0%} of the lip dry",
        )
    yield told(
        dotted("fall", lip.name, flow, "tilt_for_twice"),
        f"Tilt of {lip.name} at which its lower half carries twice the other, at {flow}",
        tilt.twice[MIDDLE, number],
        "m",
        ends=ends_of(tilt.twice[:, number]),
        source="lip law summed along the crest",
        note="0.901 of the head over the level lip and its 1 mm",
        grade=row.grade,
    )


def _steps(job: Job, fall: Fall, sheet: Sheet) -> Iterator[Figure]:
    name = fall.lip.name
    yield told(
        dotted("fall", name, "splash"),
        f"Lining each side of {name} for its splash",
        sheet.splash[0],
        "m",
        ends=(float(sheet.splash[0]), float(sheet.splash[-1])),
        source="common practice",
        note=SPLASH.place,
        grade=SPLASH.grade,
    )
    yield told(
        dotted("fall", name, "step_slope"),
        f"Drop of {name} over its length to the next lip",
        sheet.steps.slope,
        "1",
        source="job: course.reaches",
        note="slope of the steps, not of the landing sheet; 0 for the last fall",
    )
    for key, law in (("nappe_limit", nappe_limit), ("skimming_limit", skimming_limit)):
        yield worked(
            job,
            dotted("fall", name, key),
            f"Critical depth in drops at which sheets begin to skim, {name}, by {law.source.split('-')[0]}",
            law(sheet.steps.slope),
            by(law, step_slope=(sheet.steps.slope, dotted("fall", name, "step_slope"))),
        )


def _drowned(job: Job, water: Water, fall: Fall, sheet: Sheet, number: int) -> Iterator[Figure]:
    """Where the water below may stand over the crest; what the lip then passes, where its middle is drowned."""
    if not sheet.drowned[number]:
        return
    lip, flow, row = fall.lip, water.names[number], LIP_COEFFICIENTS[fall.lip.kind]
    stem, where = dotted("fall", lip.name, flow), f"{lip.name} at {flow}"
    head, below = float(lip.head[MIDDLE, number]), float(lip.tailwater[MIDDLE, number])
    yield told(
        f"{stem}.water_below",
        f"Water below over the crest of {where}",
        below,
        "m",
        ends=ends_of(lip.tailwater[:, number]),
        source="levels",
        note="less than 0 where it stands under the crest",
        grade=row.grade,
    )
    if below > 0:
        yield worked(
            job,
            f"{stem}.free_head",
            f"Water over the crest of {where} if it were free",
            lip.free[MIDDLE, number],
            by(
                lip_head,
                unit_flow=(float(lip.unit_flow[number]), f"{dotted('lip', lip.name, flow)}.unit_flow"),
                coefficient=(row.amount, f"table: lips, {lip.kind}"),
            ),
            ends=ends_of(lip.free[:, number]),
            grade=row.grade,
        )
        yield worked(
            job,
            f"{stem}.share_left",
            f"Share of its free flow that {where} passes drowned",
            drowned_share(head, below),
            by(
                drowned_share,
                head=(head, f"{dotted('lip', lip.name, flow)}.head"),
                tailwater=(below, f"{stem}.water_below"),
            ),
            grade=row.grade,
            note="proves the head: times what the lip passes freely under it, it is the flow",
        )


def _lands(job: Job, water: Water, fall: Fall, sheet: Sheet, number: int) -> Iterator[Figure]:
    lip, flow = fall.lip, water.names[number]
    stem, lipped, where = dotted("fall", lip.name, flow), dotted("lip", lip.name, flow), f"{lip.name} at {flow}"
    across, heights = float(lip.unit_flow[number]), sheet.fall[:, number]
    at_brink = float(lip.brink[number])
    speed = mean_velocity(across, at_brink)
    yield told(
        f"{stem}.fall",
        f"Crest of {where} to the water below",
        heights[MIDDLE],
        "m",
        ends=ends_of(heights),
        source="levels",
        grade=Grade.PUBLISHED,
    )
    yield worked(
        job,
        f"{stem}.brink_velocity",
        f"Velocity at the very edge of {where}",
        speed,
        by(mean_velocity, unit_flow=(across, f"{lipped}.unit_flow"), depth=(at_brink, f"{lipped}.brink")),
    )
    yield worked(
        job,
        f"{stem}.by_fall",
        f"Landing of {where} by free fall",
        sheet.landed.by_fall[MIDDLE, number],
        by(
            free_fall_distance,
            velocity=(speed, f"{stem}.brink_velocity"),
            fall=(float(heights[MIDDLE]), f"{stem}.fall"),
        ),
        ends=ends_of(sheet.landed.by_fall[:, number]),
        grade=Grade.PUBLISHED,
    )
    yield worked(
        job,
        f"{stem}.drop_number",
        f"Drop number of {where}",
        sheet.number[number],
        by(
            drop_number,
            unit_flow=(across, f"{lipped}.unit_flow"),
            drop=(sheet.floor_drop, "job: drop_mm and pool depth_mm"),
        ),
        note="lip crest to the floor below, as the source counts it",
    )
    yield worked(
        job,
        f"{stem}.by_drop",
        f"Landing of {where} by the drop law",
        sheet.landed.by_drop[number],
        _by_drop(nappe_length, sheet, number, stem),
        ends=_drop_band(sheet.landed.by_drop[number]),
        grade=DROP_LAW.grade,
        note=RAND_NOTE,
    )
    near, far = float(sheet.landed.near[number]), float(sheet.landed.far[number])
    yield told(
        f"{stem}.landing",
        f"Landing of {where}, from the foot of the lip",
        (near + far) / 2,
        "m",
        ends=(near, far),
        source="free fall and drop law",
        note="from the nearest to the farthest of both bands; the middle is half way",
        grade=DROP_LAW.grade,
    )


def _by_drop(law: Equation, sheet: Sheet, number: int, stem: str) -> tuple[Equation, tuple[Input, ...]]:
    return by(
        law,
        drop=(sheet.floor_drop, "job: drop_mm and pool depth_mm"),
        drop_number=(float(sheet.number[number]), f"{stem}.drop_number"),
    )


def _drop_band(length: float) -> tuple[float, float]:
    return DROP_LAW.low * float(length), DROP_LAW.high * float(length)


def _jumps(job: Job, water: Water, fall: Fall, sheet: Sheet, number: int) -> Iterator[Figure]:
    flow, basin = water.names[number], sheet.basin
    stem, where = dotted("fall", fall.lip.name, flow), f"{fall.lip.name} at {flow}"
    toe, tail, jump = (float(lengths[number]) for lengths in (basin.toe, basin.tailwater, basin.jump))
    for key, law, depth, label in (
        ("toe", toe_depth, toe, f"Depth where the sheet of {where} has landed"),
        ("tailwater", tailwater_depth, tail, f"Depth over the floor that holds the jump under {where}"),
    ):
        working = _by_drop(law, sheet, number, stem)
        yield worked(
            job, f"{stem}.{key}", label, depth, working, ends=_drop_band(depth), grade=DROP_LAW.grade, note=RAND_NOTE
        )
    yield worked(
        job,
        f"{stem}.jump",
        f"Length of the jump under {where}",
        jump,
        by(jump_length, tailwater=(tail, f"{stem}.tailwater"), toe=(toe, f"{stem}.toe")),
        grade=DROP_LAW.grade,
    )
    yield worked(
        job,
        f"{stem}.basin",
        f"Length of pool that takes sheet and jump of {where}",
        basin.length[number],
        by(
            basin_length,
            landing=(float(sheet.landed.far[number]), f"{stem}.landing, far end"),
            jump=(jump, f"{stem}.jump"),
        ),
        grade=DROP_LAW.grade,
    )
    yield worked(
        job,
        f"{stem}.relative",
        f"Critical depth in drops, {where}: {sheet.steps.regimes[number]}",
        sheet.steps.relative[number],
        by(
            relative_critical_depth,
            critical_depth=(float(fall.critical[number]), f"{dotted('lip', fall.lip.name, flow)}.critical"),
            drop=(fall.lip.drop, "job: course.reaches.drop_mm"),
        ),
        note=f"the step is {'long enough' if sheet.steps.full_jump[number] else 'short'} for a whole jump",
    )


def _loses(job: Job, water: Water, fall: Fall, sheet: Sheet, number: int) -> Iterator[Figure]:
    lip, flow, spent = fall.lip, water.names[number], sheet.spent
    stem, lipped, where = dotted("fall", lip.name, flow), dotted("lip", lip.name, flow), f"{lip.name} at {flow}"
    critical, across = float(fall.critical[number]), float(lip.unit_flow[number])
    before = float(spent.energy[number])
    yield worked(
        job,
        f"{stem}.energy",
        f"Energy over the floor below {where}",
        before,
        by(
            energy_over_floor,
            drop=(sheet.floor_drop, "job: drop_mm and pool depth_mm"),
            critical_depth=(critical, f"{lipped}.critical"),
        ),
    )
    for key, depth, gone, word in (
        ("toe", sheet.basin.toe, spent.at_toe, "when it has landed"),
        ("tailwater", sheet.basin.tailwater, spent.in_all, "with the jump"),
    ):
        deep = float(depth[number])
        speed = mean_velocity(across, deep)
        after = specific_energy(deep, speed)
        yield worked(
            job,
            f"{stem}.{key}_velocity",
            f"Velocity {word}, {where}",
            speed,
            by(mean_velocity, unit_flow=(across, f"{lipped}.unit_flow"), depth=(deep, f"{stem}.{key}")),
            grade=DROP_LAW.grade,
        )
        yield worked(
            job,
            f"{stem}.{key}_energy",
            f"Energy left {word}, {where}",
            after,
            by(specific_energy, depth=(deep, f"{stem}.{key}"), velocity=(speed, f"{stem}.{key}_velocity")),
            grade=DROP_LAW.grade,
        )
        yield worked(
            job,
            f"{stem}.{key}_lost",
            f"Share of the energy lost {word}, {where}",
            gone[number],
            by(share_lost, before=(before, f"{stem}.energy"), after=(after, f"{stem}.{key}_energy")),
            grade=DROP_LAW.grade,
        )
    yield worked(
        job,
        f"{stem}.heating",
        f"Power lost under {where}",
        spent.heating[number],
        by(
            hydraulic_power,
            flow=(float(water.flows[number]), f"job: flows.{flow}"),
            head=(before - after, f"{stem}.energy less {stem}.tailwater_energy"),
        ),
        grade=DROP_LAW.grade,
    )


def _loses_drowned(_: Job, water: Water, fall: Fall, sheet: Sheet, number: int) -> Iterator[Figure]:
    """No sheet and no jump: what goes is the head less the water below."""
    lip, flow, spent = fall.lip, water.names[number], sheet.spent
    stem, where = dotted("fall", lip.name, flow), f"{lip.name}, drowned, at {flow}"
    grade = LIP_COEFFICIENTS[lip.kind].grade
    for key, label, amount, unit in (
        ("energy", f"Energy over the floor below {where}", spent.energy[number], "m"),
        ("tailwater_lost", f"Share of the energy lost at {where}", spent.in_all[number], "1"),
        ("heating", f"Power lost at {where}", spent.heating[number], "W"),
    ):
        yield told(
            f"{stem}.{key}",
            label,
            amount,
            unit,
            source="levels",
            note="head over the crest against the water below over it; speeds left out",
            grade=grade,
        )


def _louder(job: Job, water: Water, fall: Fall, number: int, main: str) -> Figure:
    flow, than = water.names[number], float(water.flows[water.number(main)])
    return worked(
        job,
        dotted("fall", fall.lip.name, flow, "louder"),
        f"How much louder {fall.lip.name} is at {flow} than at {main}",
        fall.louder(than)[number],
        by(
            louder_by,
            flow=(float(water.flows[number]), f"job: flows.{flow}"),
            than=(than, f"job: flows.{main}"),
        ),
        note=f"only a comparison, never how loud it is; {fall.voice}",
    )
