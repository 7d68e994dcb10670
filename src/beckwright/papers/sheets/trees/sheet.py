"""The tree sheet for the tree officer: every root circle, what is dug, filled and laid inside it, and how."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import Points
from beckwright.base.values import value
from beckwright.base.words import chainages, metres, millimetres, retold, with_unit
from beckwright.compose import Design, Works
from beckwright.papers import pens
from beckwright.papers.drawing import A3_FLAT, Mark, Polyline, Sheet, View, Window, rectangle
from beckwright.papers.sheets.ground.plan import ground_plan, kept_corners, white_corners, window_over
from beckwright.papers.sheets.shared.frame import LEFT, LOW, TOP, SheetTitle, frame, heading, north_point, scale_bar
from beckwright.papers.sheets.shared.table import table
from beckwright.papers.sheets.trees.marks import PLAN_WIDE, guarded
from beckwright.papers.sheets.trees.words import column, lettered
from beckwright.stages.earthworks.roots import RootWork, root_work
from beckwright.stages.setting_out import Peg
from beckwright.stages.surroundings import RootCircle
from beckwright.stages.surroundings.plane import total

READER = "for the tree officer, and for whoever works beside the trees"
TOGETHER, LARGEST = 3, 100.0
"""Trees share a sheet up to so many, and as long as the plan is no smaller than 1 to this."""
STEP, HEIGHT, NAMES = 4.5, 2.2, 60.0
NONE = "none"
LEAST_PLAN = 0.05
"""Areas are told to a tenth of a square metre, less than half of that is none, m2."""


@value
class TreePage:
    """Trees that share a sheet, and the window they are seen through."""

    circles: tuple[RootCircle, ...]
    window: Window


def tree_pages(design: Design) -> tuple[TreePage, ...]:
    """Trees in order downstream, neighbours together; none where the job tells of no tree."""
    pages: list[list[RootCircle]] = []
    for circle in sorted(design.surroundings.circles, key=lambda each: _downstream(design, each)):
        if pages and len(pages[-1]) < TOGETHER and _window(design, [*pages[-1], circle]).scale <= LARGEST:
            pages[-1].append(circle)
        else:
            pages.append([circle])
    return tuple(TreePage(circles=tuple(page), window=_window(design, page)) for page in pages)


def tree_sheets(design: Design, works: Works, first: int, of: int) -> tuple[Sheet, ...]:
    """All tree sheets, numbered from ``first``."""
    pages = tree_pages(design)
    return tuple(_sheet(design, works, pages, place, first + place, of) for place in range(len(pages)))


def _downstream(design: Design, circle: RootCircle) -> int:
    return int(np.argmin(np.hypot(*(design.course.stations.points - circle.tree.at).T)))


def _window(design: Design, page: list[RootCircle]) -> Window:
    """The circles whole; the plan's lower rim lies on the table."""
    around = np.vstack([_ring(circle) for circle in page])
    low = _plan_low()
    return window_over(around, (LEFT, low), (PLAN_WIDE, TOP - low), margin=0.8, along=design.course.alignment.vertices)


def _ring(circle: RootCircle) -> Points:
    angles = np.linspace(0.0, 2.0 * np.pi, 48, endpoint=False)
    ring: Points = np.column_stack((np.cos(angles), np.sin(angles))) * circle.radius + circle.tree.at
    return ring


def _plan_low() -> float:
    return LOW + STEP * len(_NAMES) + 15.0


def _pegs(works: Works, page: TreePage) -> tuple[Peg, ...]:
    names = {f"{circle.tree.species} {circle.tree.name}" for circle in page.circles}
    return tuple(peg for peg in works.setting_out.pegs if names & set(peg.by_hand))


def _sheet(design: Design, works: Works, pages: tuple[TreePage, ...], place: int, number: int, of: int) -> Sheet:
    job, page, low = design.job, pages[place], _plan_low()
    names = ", ".join(f"{circle.tree.species} {circle.tree.name}" for circle in page.circles)
    rows = tuple(root_work(circle, works.groundwork, design.course) for circle in page.circles)
    title = SheetTitle(
        title=f"Trees: {', '.join(circle.tree.name for circle in page.circles)}",
        reader=READER,
        scale=f"1:{page.window.scale:g}",
        number=number,
        of=of,
    )
    plan = ground_plan(
        design,
        works.groundwork,
        works.setting_out,
        page.window,
        named=_pegs(works, page),
        also=guarded(works, rows, page.window),
        keep_off=kept_corners(low),
    )
    part = f"-{place + 1}" if len(pages) > 1 else ""
    return Sheet(
        name=f"trees{part}",
        title=f"{job.title.name}: trees, {names}",
        paper=A3_FLAT,
        views=(View(name="tree plan", window=page.window, marks=plan, world=True),),
        marks=(
            *frame(job, title),
            Polyline(
                points=rectangle((LEFT, LOW), (PLAN_WIDE, TOP - LOW)), layer="frame", pen=pens.MEDIUM, closed=True
            ),
            Polyline(points=np.array([(LEFT, low), (LEFT + PLAN_WIDE, low)]), layer="frame", pen=pens.MEDIUM),
            *white_corners(low),
            *scale_bar((LEFT + 8, low + 5), page.window.scale),
            *north_point((LEFT + 14, TOP - 18), page.window.turn),
            *_table(works, rows),
            *column(design, works, rows),
        ),
        description=f"Plan of {names} on {job.title.name} with root circles, fences, boards and the works inside; for "
        "each tree what is dug, raised and laid there, how it is done, and what is asked of the tree officer.",
    )


_NAMES = (
    "stem at [1.5 m], all stems as one",
    "root circle, from the stem's middle",
    "protected, as told",
    "stream inside, its line",
    "stream with its banks inside",
    "dug for the stream",
    "raised for the stream",
    "pit with its sides",
    "topsoil in the quantities",
    "hose inside",
    "nearest dig of the stream to the stem",
    "heaps inside",
)


def _table(works: Works, found: tuple[RootWork, ...]) -> Iterator[Mark]:
    top = _plan_low() - 2.0
    yield heading((LEFT + 5, top - 4.0), "What happens inside each circle, if nothing is moved", 2.8)
    wide = (PLAN_WIDE - 10.0 - NAMES) / len(found)
    columns = [_column(works, row) for row in found]
    heads = ("", *(f"{row.circle.tree.species} {row.circle.tree.name}" for row in found))
    rows = [heads, *zip(map(retold, _NAMES), *columns, strict=True)]
    drawn, _ = table((LEFT + 5, top - 5.5), (NAMES, *[wide] * len(columns)), rows, height=HEIGHT, step=STEP)
    yield from drawn


def _column(works: Works, row: RootWork) -> tuple[str, ...]:
    circle = row.circle
    pit = f"{_area(row.pit_plan)}; the pit is up to {metres(works.groundwork.pit.depth)} deep" if row.pit_plan else NONE
    return (
        millimetres(circle.stem),
        metres(circle.radius),
        "yes: nothing inside before the answer" if circle.tree.protected else "no",
        ", ".join(chainages(*span) for span in circle.inside) or NONE,
        ", ".join(chainages(*span) for span in circle.works) or NONE,
        _moved(row.cut_plan, row.cut, circle.deepest, "deep") if row.digs else NONE,
        _moved(row.filled_plan, row.filled, circle.highest, "high") if row.fills else NONE,
        pit,
        _topsoil(works, row),
        _hose(row),
        metres(circle.closest) if circle.works else "outside the circle",
        lettered(works, row) or NONE,
    )


def _moved(plan: float, volume: float, most: float, word: str) -> str:
    """Plan, volume, and how deep or high where the stages tell it."""
    far = f", up to {millimetres(most)} {word}" if most > 0.0 else ""
    return f"{_area(plan)}, {_volume(volume)}{far}"


def _topsoil(works: Works, row: RootWork) -> str:
    """What is counted as stripped inside, and what of it stays on all the same."""
    if works.design.job.site.topsoil <= 0.0 or row.strip_plan < LEAST_PLAN:
        return NONE
    stays = f", {_area(row.filled_plan)} of it under banks: left on" if row.filled_plan >= LEAST_PLAN else ""
    return f"{_area(row.strip_plan)} counted{stays}"


def _hose(row: RootWork) -> str:
    if not row.circle.hose:
        return NONE
    beside = f"{metres(row.trench)} of it in its own trench, {_volume(row.trench_cut)}" if row.trench else "all of it"
    under = " in the stream's own banks or pit" if not row.trench else ""
    return f"{metres(total(row.circle.hose_spans))}, {beside}{under}"


def _area(plan: float) -> str:
    return f"{with_unit(plan, 'm²'):,.1f}"


def _volume(volume: float) -> str:
    return f"{with_unit(volume, 'm³'):,.2f}"
