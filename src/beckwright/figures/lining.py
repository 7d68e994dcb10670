"""Figures of the lining: girths, the strip, pieces, laps, bends, pleats, and the plan beside other ways."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.quantities import Length
from beckwright.base.words import number_in, with_unit
from beckwright.equations.lining import (
    arc_difference,
    edge_over_water,
    fleece_area,
    half_girth,
    joined_width,
    length_with_laps,
    pleats_needed,
    sheet_density,
    sheet_mass,
    thumb_size,
)
from beckwright.figures.make import by, told, worked
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.lining.values import Bend, Fold, Lap, Lining, Piece
from beckwright.tables.lining import LAP_BONDED, PLEAT_FLAP
from beckwright.tables.practice import FLEECE_LAPS

STEM = "lining"
MASS, ALLOWANCE = "job: layers.lining_kg_m2", "job: layers.edge_allowance_mm"


def lining_figures(job: Job, course: SetOutCourse, lining: Lining) -> Iterator[Figure]:
    """Every figure of the lining."""
    yield from _girths(job, course, lining)
    yield from _strip(job, lining)
    for piece in lining.pieces:
        yield from _piece(job, piece)
    yield from _pit(job, lining)
    for number, lap in enumerate(lining.laps, 1):
        yield _lap(job, number, lap)
    for number, bend in enumerate(lining.bends, 1):
        yield _bend(job, number, bend)
    for fold in lining.folds:
        yield _fold(job, fold)
    yield from _fleece(job, lining)
    yield from _compared(job, lining)


def _girths(job: Job, course: SetOutCourse, lining: Lining) -> Iterator[Figure]:
    """Where the sheet is narrowest and widest, both sides apart, and the rule of thumb beside it."""
    at, slope = course.stations, course.side_slope
    for name, station in (("narrowest", int(lining.girths.argmin())), ("widest", int(lining.girths.argmax()))):
        floor = max(float(at.width[station] - 2 * slope * (at.rim[station] - at.bed[station])), 0.0)
        for side, edges in (("left", at.edge_left), ("right", at.edge_right)):
            rise = max(float(edges[station] - at.liner[station]), 0.0)
            yield worked(
                job,
                dotted(STEM, "girth", name, side),
                f"Lining from the middle over the {side} edge where it is {name}, at "
                f"{with_unit(at.chainage[station], 'm'):.1f}",
                half_girth(floor, rise, slope, job.layers.edge_allowance),
                by(
                    half_girth,
                    width=(floor, "bed at the lining's level"),
                    side_height=(rise, "edge less lining"),
                    side_slope=(slope, "job: course.side_slope"),
                    allowance=(job.layers.edge_allowance, ALLOWANCE),
                ),
            )
        yield told(
            dotted(STEM, "girth", name, "cut"),
            f"Girth of sheet where it is {name}",
            float(lining.girths[station]),
            "m",
            source="both sides, and wider where a fall splashes",
        )
        yield told(
            dotted(STEM, "girth", name, "thumb"),
            "The same by the rule of thumb: edge to edge, 2 depths, 2 overlaps",
            float(lining.thumb_girths[station]),
            "m",
            source="common practice",
            grade=Grade.PRACTICE,
        )


def _strip(job: Job, lining: Lining) -> Iterator[Figure]:
    strip = lining.strip
    yield told(
        f"{STEM}.strip.length",
        "Sheet along the middle, from behind the outlet box into the reservoir, loose sheet included",
        strip.length,
        "m",
        source="station by station down the lining",
        grade=Grade.PRACTICE,
    )
    yield told(
        f"{STEM}.strip.surface",
        "Area of the lining where it lies",
        strip.surface,
        "m2",
        source="triangles between the stations in space",
        grade=Grade.PRACTICE,
    )
    yield told(
        f"{STEM}.strip.area",
        "Area of the course laid flat",
        strip.area,
        "m2",
        source="no line of it shorter than where it lies",
        note=f"{lining.searched[0]} places for laps, {lining.searched[1]} turns, {lining.searched[2]} widths tried",
        grade=Grade.PRACTICE,
    )
    if len(lining.pieces) > 1:
        sum_of_pieces = sum(piece.end - piece.start for piece in lining.pieces)
        lap = (sum_of_pieces - strip.length) / len(lining.laps)
        yield worked(
            job,
            f"{STEM}.strip.with_laps",
            "The same with its laps",
            sum_of_pieces,
            by(
                length_with_laps,
                developed=(strip.length, f"{STEM}.strip.length"),
                pieces=(len(lining.pieces), "pieces of the plan"),
                lap=(lap, "laps of the plan, mean"),
            ),
            grade=Grade.PRACTICE,
        )


def _piece(job: Job, piece: Piece) -> Iterator[Figure]:
    name, what = dotted(STEM, "pieces", piece.letter), f"piece {piece.letter}"
    way = "down the stream" if piece.along else "across the stream"
    yield told(
        f"{name}.length",
        f"Cut length of {what}, {way}",
        piece.length,
        "m",
        source="least rectangle over its part of the strip, to the next 50 mm",
    )
    if piece.roll is not None:
        yield worked(
            job,
            f"{name}.width",
            f"Width of {what}",
            piece.width,
            by(
                joined_width,
                strips=(piece.strips, "fewest that cover it"),
                roll=(piece.roll, "job: lining.rolls_m"),
                lap=(LAP_BONDED.amount, f"table: lining, {LAP_BONDED.place}"),
            ),
            grade=LAP_BONDED.grade if piece.strips > 1 else Grade.MEASURED,
        )
    yield worked(
        job,
        f"{name}.mass",
        f"Weight of {what}",
        piece.mass,
        by(sheet_mass, area=(piece.area, f"{name}.length"), per_area=(job.layers.lining_mass, MASS)),
    )


def _pit(job: Job, lining: Lining) -> Iterator[Figure]:
    pit, layers, reservoir = lining.pit, job.layers, job.reservoir
    deep = reservoir.cover_depth + reservoir.fill_depth + reservoir.sump
    for key, side in (("length", reservoir.length), ("width", reservoir.width)):
        yield worked(
            job,
            f"{STEM}.pit.{key}",
            f"Sheet of the reservoir over its {key}, before rounding up",
            thumb_size(side, deep, layers.edge_allowance),
            by(
                thumb_size,
                size=(side, f"job: reservoir.{key}_m"),
                depth=(deep, "cover, fill and sump"),
                overlap=(layers.edge_allowance, ALLOWANCE),
            ),
        )
    yield worked(
        job,
        f"{STEM}.pit.mass",
        "Weight of the reservoir's sheet",
        pit.mass,
        by(sheet_mass, area=(pit.area, "cut length times rolls"), per_area=(layers.lining_mass, MASS)),
    )


def _lap(job: Job, number: int, lap: Lap) -> Figure:
    running = lap.height
    return worked(
        job,
        dotted(STEM, "laps", str(number), "height"),
        f"Hidden end of the lower sheet over running water, lap {number} in {lap.place}",
        running,
        by(
            edge_over_water,
            edge=(lap.level, "lining at the upper end of the lap"),
            running=(lap.level - running, "running water below it, high end"),
        ),
    )


def _bend(job: Job, number: int, bend: Bend) -> Figure:
    return worked(
        job,
        dotted(STEM, "bends", str(number), "difference"),
        "Longer outside than inside, a straight sheet led round the bend from "
        f"{number_in(bend.start, 'm'):.1f} to {with_unit(bend.end, 'm'):.1f}",
        bend.difference,
        by(
            arc_difference,
            turn=(bend.turn, "turn of the course line"),
            width=(bend.width, "widest girth in the bend"),
        ),
    )


def _fold(job: Job, fold: Fold) -> Figure:
    return worked(
        job,
        dotted(STEM, "pleats", fold.place, fold.side),
        f"Pleats on the {fold.side} of {fold.place}; the next whole number of them",
        pleats_needed(fold.taken_up, PLEAT_FLAP.amount),
        by(
            pleats_needed,
            taken_up=(fold.taken_up, "sheet longer than the edge it lies on"),
            flap=(PLEAT_FLAP.amount, f"table: lining, {PLEAT_FLAP.place}"),
        ),
        ends=_ends(fold.taken_up),
        grade=PLEAT_FLAP.grade,
    )


def _ends(taken: Length) -> tuple[float, float]:
    return pleats_needed(taken, PLEAT_FLAP.high), pleats_needed(taken, PLEAT_FLAP.low)


def _fleece(job: Job, lining: Lining) -> Iterator[Figure]:
    for layer in lining.fleece:
        yield worked(
            job,
            dotted(STEM, "fleece", layer.where),
            f"Fleece {layer.where} the lining, with its laps",
            layer.area,
            by(
                fleece_area,
                lining=(layer.lies_on, "lining, course and reservoir"),
                factor=(FLEECE_LAPS.amount, f"table: practice, {FLEECE_LAPS.place}"),
            ),
            ends=(layer.lies_on, layer.area),
        )


def _compared(job: Job, lining: Lining) -> Iterator[Figure]:
    other = lining.compared
    for key, label, area, source in (
        ("bought", "Sheet cut for the course", other.bought, "roll widths times cut lengths"),
        ("counted", "The same, seams counted as sheet", other.counted, "job: lining.seam_counts_m2_m"),
        ("bound", "No plan takes less than this", other.bound, "lining where it lies, and laps no roll can save"),
        ("one_sheet", "One sheet cut to need, seams or none", _area(other.one_sheet), "least rectangle over the strip"),
        ("rolled", "One strip led round every bend", _area(other.rolled), "longest line times widest girth"),
    ):
        yield told(f"{STEM}.course.{key}", label, area, "m2", source=source, grade=Grade.PRACTICE)
    if other.single is not None:
        yield told(
            f"{STEM}.course.single",
            "One sheet from the rolls on offer, seams counted as sheet",
            other.single,
            "m2",
            source="the plan's own search with no lap",
            grade=Grade.PRACTICE,
        )
    yield told(
        f"{STEM}.course.rolled_pleats",
        "Pleats it would take, both sides",
        other.rolled_pleats,
        "m",
        source="sheet longer than the edges it lies on",
    )
    yield told(
        f"{STEM}.course.thumb",
        "One sheet by the rule of thumb",
        _area(other.thumb),
        "m2",
        source="common practice: length and width, each and 2 depths and 2 overlaps",
        note="plan length: neither bends, risers nor the outlet box are in it",
        grade=Grade.PRACTICE,
    )
    yield worked(
        job,
        f"{STEM}.density",
        "Density that weight and thickness imply",
        sheet_density(job.layers.lining_mass, job.layers.lining),
        by(
            sheet_density,
            per_area=(job.layers.lining_mass, MASS),
            thickness=(job.layers.lining, "job: layers.lining_mm"),
        ),
    )


def _area(size: tuple[Length, Length]) -> float:
    return size[0] * size[1]
