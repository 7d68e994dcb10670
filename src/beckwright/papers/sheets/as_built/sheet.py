"""The as-built sheets for the next contractor: plan, what lies hidden, levels as shot beside as drawn, photographs."""

from collections.abc import Sequence

from beckwright.base.words import opening, with_unit
from beckwright.compose import Design, Works
from beckwright.papers.drawing import A3_FLAT, Sheet, View
from beckwright.papers.seen import Seen, held_against
from beckwright.papers.sheets.as_built.column import column
from beckwright.papers.sheets.as_built.levels import level_sheet
from beckwright.papers.sheets.as_built.pages import HEIGHT, READER, ROWS, STEP, TOP_ROW, AsBuiltPages, state
from beckwright.papers.sheets.as_built.plan import as_built_marks, as_built_window
from beckwright.papers.sheets.as_built.rows import (
    level_rows,
    rows_count,
)
from beckwright.papers.sheets.ground.depths import TABLE_LEFT, divider
from beckwright.papers.sheets.ground.plan import white_corners
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    TOP,
    SheetTitle,
    frame,
    heading,
    north_point,
    scale_bar,
)
from beckwright.papers.sheets.shared.table import table
from beckwright.readings import AsBuilt
from beckwright.site.values import Photograph


def as_built_pages(works: Works, seen: Seen) -> AsBuiltPages:
    """How many sheets there are; quick, nothing is held against the design yet."""
    return AsBuiltPages(
        seen=seen,
        levels=max(-(-rows_count(works, seen) // ROWS), 1),
        photographs=-(-len(seen.photographs) // ROWS),
    )


def as_built_sheets(design: Design, works: Works, pages: AsBuiltPages, first: int, of: int) -> tuple[Sheet, ...]:
    """Plan, levels, photographs, numbered from ``first``."""
    built, trouble = held_against(design, pages.seen)
    rows = level_rows(design, works, pages.seen, built)
    sheets = [_plan_sheet(design, works, pages.seen, built, trouble, first, of)]
    for place in range(pages.levels):
        part = rows[place * ROWS : (place + 1) * ROWS]
        sheets.append(level_sheet(design, pages, built, (rows, part), place, first + 1 + place, of))
    pictures = sorted(pages.seen.photographs, key=_along)
    for place in range(pages.photographs):
        shown = pictures[place * ROWS : (place + 1) * ROWS]
        sheets.append(_photograph_sheet(design, shown, place, first + 1 + pages.levels + place, of))
    return tuple(sheets)


def _along(picture: Photograph) -> tuple[float, int]:
    return (float("inf") if picture.chainage is None else picture.chainage, picture.number)


def _plan_sheet(
    design: Design,
    works: Works,
    seen: Seen,
    built: AsBuilt | None,
    trouble: tuple[str, ...],
    number: int,
    of: int,
) -> Sheet:
    job = design.job
    window = as_built_window(design, (LEFT, LOW), (TABLE_LEFT - LEFT, TOP - LOW))
    marks = as_built_marks(design, works, window, built)
    title = SheetTitle(
        title="As built: what lies where" if seen.shots else "As built: as designed so far",
        reader=READER,
        scale=f"1:{window.scale:g}",
        number=number,
        of=of,
    )
    return Sheet(
        name="as-built",
        title=f"{job.title.name}: as built",
        paper=A3_FLAT,
        views=(View(name="as-built plan", window=window, marks=marks, world=True),),
        marks=(
            *frame(job, title),
            *divider(),
            *white_corners(LOW),
            *scale_bar((LEFT + 8, LOW + 5), window.scale),
            *north_point((LEFT + 14, TOP - 18), window.turn),
            *column(design, works, seen, built, trouble),
        ),
        description=f"Plan of {job.title.name} for the next contractor: stream, hose, cables, services, laps, chamber "
        f"and reservoir; what lies hidden and how deep; pump and settings. {state(seen)}.",
    )


def _photograph_sheet(design: Design, shown: Sequence[Photograph], place: int, number: int, of: int) -> Sheet:
    title = SheetTitle(title="As built: photographs", reader=READER, scale="no drawing", number=number, of=of)
    rows = [("chainage", "number", "taken", "note"), *(_picture(each) for each in shown)]
    drawn, _ = table((LEFT + 6.0, TOP_ROW), (36, 22, 44, 276), rows, height=HEIGHT, step=STEP)
    return Sheet(
        name=f"as-built-photographs-{place + 1}",
        title=f"{design.job.title.name}: as built, photographs",
        paper=A3_FLAT,
        marks=(
            *frame(design.job, title),
            heading((LEFT + 6.0, TOP - 9.0), "Photographs by chainage", 5.0),
            *drawn,
        ),
        description=f"{len(shown)} photographs of {design.job.title.name} by chainage, with their notes.",
    )


def _picture(picture: Photograph) -> tuple[str, str, str, str]:
    at = "anywhere" if picture.chainage is None else f"{with_unit(picture.chainage, 'm'):.1f}"
    return at, f"{picture.number}", f"{picture.seen:%Y-%m-%d %H:%M}", opening(picture.note)


__all__ = ["ROWS", "AsBuiltPages", "as_built_pages", "as_built_sheets"]
