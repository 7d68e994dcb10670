"""The dig sheets: read from the cab, in the rain, by someone who has no hand free to turn a page twice.

First the whole site with heaps and keep-outs, then the pit, then the course a dozen rows at a time, each with the
plan of just that stretch. Every depth is measured down from one string between two nails.
"""

import numpy as np

from beckwright.base.words import band, metres, opening, retold, tonnes, with_unit
from beckwright.compose import Design
from beckwright.job.model import Service
from beckwright.papers import fonts
from beckwright.papers.drawing import (
    A3_FLAT,
    Mark,
    Sheet,
    Text,
    View,
)
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.ground.depths import (
    PLAN_WIDE,
    TABLE_LEFT,
    dig_pages,
    divider,
    in_runs,
    red_box,
    stretch_sheet,
)
from beckwright.papers.sheets.ground.pit import pit_sheet
from beckwright.papers.sheets.ground.plan import (
    ground_plan,
    heap_letters,
    kept_corners,
    landmarks,
    white_corners,
    window_over,
)
from beckwright.papers.sheets.shared.frame import (
    LEAST,
    LEFT,
    LOW,
    TITLE_HIGH,
    TITLE_WIDE,
    TOP,
    SheetTitle,
    frame,
    heading,
    north_point,
    notes,
    scale_bar,
)
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.earthworks.roots import stripped_inside
from beckwright.stages.earthworks.values import Groundwork, Heap, SoilBalance
from beckwright.stages.setting_out import SettingOut
from beckwright.stages.surroundings.access import Access
from beckwright.tables.practice import SPOIL_CLEARANCE

LEAST_PLAN = 0.05
"""Areas are told to a tenth of a square metre: less than half of that is not told, m2."""
READER = "for the digger driver: read it from the cab"
CAUTIONS = (
    "Services traced and marked on the grass by someone competent before the machine comes off its trailer.",
    "Nobody in a pit or trench that is not supported or battered: the competent person named for this job decides.",
    "That person looks at every open side before each shift, after rain, and after anything has slipped.",
    f"Heaps and machine [{SPOIL_CLEARANCE.amount:.2f} m] or more back from every open side; nobody within the swing.",
    "Roots by hand: none thicker than [25 mm] is cut, none is left bare overnight.",
    "Local rules go before this sheet. If the ground or the water is not what it says here: stop and ring.",
)


def dig_count(setting_out: SettingOut) -> int:
    """How many dig sheets there are: the site, the pit, and the stretches."""
    return 2 + len(dig_pages(setting_out))


def dig_sheets(
    design: Design, groundwork: Groundwork, setting_out: SettingOut, first: int, of: int
) -> tuple[Sheet, ...]:
    """All dig sheets, numbered from ``first``."""
    pages = dig_pages(setting_out)
    return (
        _site_sheet(design, groundwork, setting_out, first, of),
        pit_sheet(design, setting_out, READER, first + 1, of),
        *(
            stretch_sheet(design, groundwork, setting_out, rows, place, READER, first + 2 + place, of)
            for place, rows in enumerate(pages)
        ),
    )


def _site_sheet(design: Design, groundwork: Groundwork, setting_out: SettingOut, number: int, of: int) -> Sheet:
    job = design.job
    shown = np.vstack(
        [
            *(np.array([peg.left.spot.at, peg.right.spot.at]) for peg in setting_out.pegs),
            setting_out.pit.dig.rim,
            *(np.array([heap.at]) + np.array([(-1, -1), (1, 1)]) * heap.radius for heap in groundwork.heaps),
        ]
    )
    window = window_over(shown, (LEFT, LOW), (PLAN_WIDE, TOP - LOW), margin=1.0, along=design.course.alignment.vertices)
    marks = ground_plan(
        design, groundwork, setting_out, window, named=landmarks(setting_out), keep_off=kept_corners(LOW)
    )
    title = SheetTitle(title="Dig sheet: the site", reader=READER, scale=f"1:{window.scale:g}", number=number, of=of)
    return Sheet(
        name="dig-site",
        title=f"{job.title.name}: dig sheet, the site",
        paper=A3_FLAT,
        views=(View(name="dig plan", window=window, marks=marks, world=True),),
        marks=(
            *frame(job, title),
            *divider(),
            *white_corners(LOW),
            *scale_bar((LEFT + 8, LOW + 6), window.scale),
            *north_point((LEFT + 14, TOP - 18), window.turn),
            *_orders(design, groundwork, setting_out),
        ),
        description=f"Plan of {job.title.name} for the digger driver with pegs, pit, heaps, root circles, services and "
        "boundaries; order of work, soil and cautions.",
    )


def _orders(design: Design, groundwork: Groundwork, setting_out: SettingOut) -> list[Mark]:
    """The column beside the site plan, as large as it fits."""
    work, marks = _work(design, groundwork, setting_out), list[Mark]()
    for height in (3.2, 2.8, 2.5, 2.2, 2.0, LEAST):
        marks, low = _orders_set(design, groundwork, setting_out, work, height)
        if low >= LOW + TITLE_HIGH + 3.0:
            break
    return marks


def _orders_set(
    design: Design, groundwork: Groundwork, setting_out: SettingOut, rows_of: list[tuple[str, str]], height: float
) -> tuple[list[Mark], float]:
    left, room = TABLE_LEFT + 5, TITLE_WIDE - 10
    indent = max(9.0 * height, 2.0 + max(fonts.width(word, height, weight=700) for word, _ in rows_of))
    marks: list[Mark] = [heading((left, TOP - 8), "Order of work")]
    down = TOP - 15.0
    for word, what in rows_of:
        rows = paragraph((left + indent, down), what, room - indent, height)
        marks += [Text(at=(left, down), words=word, height=height, weight=700), *rows]
        down = rows[-1].at[1] - 1.9 * height
    drawn, down = table(
        (left, down + 1.0), (12, 19, 19, 19, 71), _heap_rows(groundwork), height=height, step=2.2 * height
    )
    marks += drawn
    hands = by_hand_lines(design, setting_out)
    if hands:
        box, down = red_box((left, down - 4.0), room, "Dig by hand", hands, height)
        marks += box
    marks.append(heading((left, down - 6.5), "Before and while digging"))
    drawn, down = notes((left, down - 12.0), tuple(map(retold, CAUTIONS)), room, height)
    return [*marks, *drawn], down


def _work(design: Design, groundwork: Groundwork, setting_out: SettingOut) -> list[tuple[str, str]]:
    job = design.job
    works, pit = job.earthworks, groundwork.pit
    rows = [
        ("Machine", _machine(design.surroundings.access)),
        ("Its reach", _reach(design.surroundings.access)),
        *([("Topsoil", _topsoil(design, groundwork))] if job.site.topsoil > 0 else []),
        ("Pit", f"{metres(pit.depth)} deep at most: see the sheet of the pit"),
        ("Course", "from the lower end up, every depth down from the string between two nails"),
        ("Banks", "rammed in thin layers, none thrown up loose" if works.fill == "rammed" else "tipped, then trimmed"),
    ]
    if groundwork.trench is not None and setting_out.trench_depth is not None:
        deep = band(*setting_out.trench_depth, 0.01, "m")
        rows.append(
            (
                "Hose trench",
                f"{metres(groundwork.trench.width)} wide, {deep} deep, before the lining",
            )
        )
    return [*rows, *(("Away" if row.left >= 0 else "Bring", _balance(row)) for row in groundwork.balances)]


def _topsoil(design: Design, groundwork: Groundwork) -> str:
    """Where it is stripped; what the quantities count inside root circles is told with what becomes of it."""
    circles = design.surroundings.circles
    strip = f"strip {metres(design.job.site.topsoil)} where dug or banked"
    inside = stripped_inside(circles, groundwork, design.course) if circles else None
    if inside is None or inside.dug + inside.banked < LEAST_PLAN:
        return f"{strip}, never inside a root circle; its own heap"
    counted = sum(part.plan for part in groundwork.parts if part.kind == "strip")
    return (
        f"{strip}, never inside a root circle: of {_square(counted)} counted {_square(inside.banked)} stay on under "
        f"banks, {_square(inside.dug)} are lifted by hand with the dig; its own heap"
    )


def _square(plan: float) -> str:
    return f"{with_unit(plan, 'm²'):,.1f}"


def _machine(access: Access) -> str:
    wide = "width not told" if access.machine is None else f"{metres(access.machine)} wide"
    needed = "" if access.needed is None else f", wants {metres(access.needed)}"
    return f"{wide}{needed}; narrowest way in {metres(access.width)}"


def _reach(access: Access) -> str:
    has = "not told" if access.reach is None else f"{metres(access.reach)} from the machine's middle"
    wanted = [
        f"{each.part} wants {metres(each.one_side)} from one side, {metres(each.both)} from both"
        for each in access.reaches
    ]
    return "; ".join([has, *wanted])


def _balance(row: SoilBalance) -> str:
    low, _, high = sorted(map(abs, row.loose))
    soil = row.holds if row.holds == row.soil else f"{row.holds} ({row.soil})"
    loads = "" if row.loads is None else f", {row.loads} load{'' if row.loads == 1 else 's'}"
    return f"{soil}: {band(low, high, 1.0 if high >= 10 else 0.1, 'm³')} loose, {tonnes(abs(row.mass))}{loads}"


def _heap_rows(groundwork: Groundwork) -> list[tuple[str, ...]]:
    heaps = groundwork.heaps
    return [
        ("heap", "holds", "loose", "high", "foot clear of"),
        *(
            (letter, heap.holds, f"{with_unit(heap.loose, 'm³'):.1f}", metres(heap.height), _clear(heap))
            for letter, heap in zip(heap_letters(heaps), heaps, strict=True)
        ),
    ]


def _clear(heap: Heap) -> str:
    return f"{metres(heap.clear)}, {heap.of}" if heap.clear >= 0 else f"not clear: {heap.of}"


def by_hand_lines(design: Design, setting_out: SettingOut) -> tuple[str, ...]:
    """Where the works enter a root circle or come close to a service, by pegs."""
    around, pit = design.surroundings, setting_out.pit.by_hand
    lines = []
    for circle in around.circles:
        name = f"{circle.tree.species} {circle.tree.name}"
        ask = ". Protected: not before the tree officer has answered" if circle.tree.protected else ""
        lines.append((name, "", circle.hose, ask))
    for near in around.services:
        thing = near.thing
        if isinstance(thing, Service):
            close = near.hose is not None and near.hose < thing.clearance
            lines.append((thing.name, f", {metres(thing.clearance)} each side", close, ""))
    told = []
    for name, how, hose, ask in lines:
        where = [*_pegs_of(setting_out, name), *["pit"] * (name in pit), *["hose trench"] * hose]
        if where:
            told.append(f"{opening(name)}{how}: {', '.join(where)}{ask}")
    return tuple(told)


def _pegs_of(setting_out: SettingOut, name: str) -> list[str]:
    numbers = [peg.number for peg in setting_out.pegs if name in peg.by_hand]
    return [f"pegs {in_runs(numbers)}"] if len(numbers) > 1 else [f"peg {number}" for number in numbers]
