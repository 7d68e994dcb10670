"""The plan beside one sheet, a roll led round every bend, the rule of thumb, and the least any plan can take."""

import numpy as np

from beckwright.equations.lining import length_with_laps, thumb_size
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.lining.flat import lay_flat
from beckwright.stages.lining.plan import Search, cut_length, one_piece
from beckwright.stages.lining.rows import Sections, top_widths
from beckwright.stages.lining.values import LEFT_END, RIGHT_END, Compared, Lap, Piece, Rows, Strip

ALL_GATHERED = 1e9
"""More than any bend asks for."""


def compare(
    job: Job,
    course: SetOutCourse,
    rows: Rows,
    strip: Strip,
    cut: Sections,
    search: Search,
    pieces: tuple[Piece, ...],
    laps: tuple[Lap, ...],
) -> Compared:
    """Lay the same course in other ways."""
    whole = one_piece(job, strip)
    straight = lay_flat(rows, strip.water, ALL_GATHERED)
    wide = float(rows.beside[:, LEFT_END].max() - rows.beside[:, RIGHT_END].min())
    seams = sum(lap.across for lap in laps if lap.bonded) + sum(piece.seam for piece in pieces)
    bought = sum(piece.area for piece in pieces)
    depth, allowance = float(cut.up.max()), job.layers.edge_allowance
    return Compared(
        bought=bought,
        counted=bought + job.lining.seam_counts * seams,
        single=_single(search),
        bound=_bound(job, strip),
        one_sheet=(whole.length, whole.width),
        rolled=(float(cut_length(np.array(straight.length))), float(cut_length(np.array(wide)))),
        rolled_pleats=float(straight.spare[:, [LEFT_END, RIGHT_END]].sum()),
        thumb=(
            thumb_size(course.length, depth, allowance),
            thumb_size(float(top_widths(cut).max()), depth, allowance),
        ),
    )


def _single(search: Search) -> float | None:
    """The whole course as one piece of the plan's own search."""
    if not search.widths:
        return None
    counted = float(search.counted(0)[-1])
    return counted if np.isfinite(counted) else None


def _bound(job: Job, strip: Strip) -> float:
    """The lining where it lies, and a lap of the narrowest girth for every end of roll it must take."""
    longest = job.lining.roll_length
    if longest is None:
        return strip.surface
    pieces = int(np.ceil((strip.length - job.layers.lap) / (longest - job.layers.lap) - 1e-9))
    laps = length_with_laps(0.0, max(pieces, 1), job.layers.lap)
    return strip.surface + laps * float(strip.girths().min())
