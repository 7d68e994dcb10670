"""What the tree sheet says beside its plan: what is asked, how it is done, the key, the law's reminders."""

from collections.abc import Iterator

from beckwright.base.words import metres, millimetres, opening, retold, with_unit
from beckwright.compose import Design, Works
from beckwright.papers.drawing import Mark, Millimetres, Text
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.ground.depths import TABLE_LEFT, red_box
from beckwright.papers.sheets.ground.dig import by_hand_lines
from beckwright.papers.sheets.ground.plan import heap_letters
from beckwright.papers.sheets.shared.fitted import ruled
from beckwright.papers.sheets.shared.frame import LEAST, LOW, RIGHT, TITLE_HIGH, TOP, heading, notes
from beckwright.papers.sheets.trees.marks import key_marks
from beckwright.stages.earthworks.roots import RootWork
from beckwright.stages.surroundings.plane import total
from beckwright.tables.trees import BOARDS_BESIDE, ROOT_KEPT, ROOT_RADIUS_CAP, STEM_CLEARANCE

KEY = (
    ("circle", "root circle"),
    ("fence", "fence, on the circle"),
    ("dig by hand", "dug or banked inside: by hand only"),
    ("boards", "boards over the ground"),
    ("heap", "heap of soil"),
    ("stem", "stem"),
)
SOURCES = (
    f"Radius 12 stems at [1.5 m], [{ROOT_RADIUS_CAP.amount:g} m] at most; several stems counted as one: BS 5837:2012, "
    "4.6.1 and Annex D (UK). Fence and ground protection: the same, 6.2 (recalled). Stem clearance, roots kept and "
    "boards: common practice. Volumes as drawn, between the ground surveyed and the ground dug or banked, square to "
    "the course. Local rules come first; this sheet asks, the tree officer and an arboriculturist answer."
)
LINE_HIGH = 8.5
FOOT = LOW + TITLE_HIGH + 2.0


def column(design: Design, works: Works, rows: tuple[RootWork, ...]) -> list[Mark]:
    """The column beside the plan, as large as it fits."""
    tried = (_set(design, works, rows, height) for height in (2.8, 2.6, 2.4, 2.2, 2.0, LEAST))
    drawn: list[tuple[list[Mark], float]] = []
    for marks, low in tried:
        drawn.append((marks, low))
        if low >= FOOT:
            break
    return drawn[-1][0]


def _set(
    design: Design, works: Works, rows: tuple[RootWork, ...], height: Millimetres
) -> tuple[list[Mark], Millimetres]:
    left, room = TABLE_LEFT + 5.0, RIGHT - TABLE_LEFT - 10.0
    marks: list[Mark] = []
    down = TOP - 4.0
    asked = tuple(_asked(rows))
    if asked:
        box, down = red_box((left, down), room, "Asked of the tree officer, in writing, before any work", asked, height)
        marks += [*box, *_answer(left, down - LINE_HIGH + 1.0, room)]
        down -= LINE_HIGH
    marks.append(heading((left, down - 6.5), "In the circles"))
    drawn, down = notes((left, down - 12.0), tuple(_orders(design, works, rows)), room, height)
    marks += drawn
    marks.append(heading((left, down - 3.0), "Key"))
    keyed, down = _key(left, down - 8.5, room, height)
    marks += keyed
    said = paragraph((left, down - 1.0), retold(SOURCES), room, max(height - 0.3, LEAST))
    return [*marks, *said], said[-1].at[1]


def _asked(rows: tuple[RootWork, ...]) -> Iterator[str]:
    """One question for each tree that has works inside; who told whether it is protected must be asked too."""
    for row in rows:
        if row.nothing:
            continue
        name = f"{row.circle.tree.species} {row.circle.tree.name}"
        what = ", ".join(_works(row))
        if row.circle.tree.protected:
            yield f"{opening(name)}, protected: may this be done inside its circle: {what}? How, and who watches?"
        else:
            yield (
                f"{opening(name)}, told as not protected: does an order, a conservation area or a planning condition "
                f"cover it? Inside its circle: {what}."
            )


def _works(row: RootWork) -> Iterator[str]:
    circle = row.circle
    if row.digs:
        deep = f" up to {millimetres(circle.deepest)} deep" if circle.deepest > 0.0 else ""
        yield f"a dig{deep}, {with_unit(row.cut, 'm³'):,.2f}"
    if row.fills:
        high = f" up to {millimetres(circle.highest)}" if circle.highest > 0.0 else ""
        yield f"soil{high} over the ground, {with_unit(row.filled, 'm³'):,.2f}"
    if row.pit_plan:
        yield f"{with_unit(row.pit_plan, 'm²'):,.1f} of the pit"
    if circle.hose:
        yield f"{metres(total(circle.hose_spans))} of hose"
    if row.heaps:
        yield "heaps as drawn, to be moved out"


def lettered(works: Works, row: RootWork) -> str:
    """Heaps inside a circle by the letters they have on plan."""
    heaps = works.groundwork.heaps
    pairs = zip(heap_letters(heaps), heaps, strict=True)
    return ", ".join(f"{letter} ({heap.holds})" for letter, heap in pairs if heap.name in row.heaps)


def _answer(left: float, down: float, room: float) -> list[Mark]:
    """Lines for the answer."""
    marks: list[Mark] = []
    for at, words in ((0.0, "answer"), (room * 0.45, "name"), (room * 0.78, "date")):
        marks.append(Text(at=(left + at, down), words=words, height=LEAST))
        end = {0.0: room * 0.43, room * 0.45: room * 0.76}.get(at, room)
        marks.append(ruled((left + at + 11.0, down - 0.6), (left + end, down - 0.6)))
    return marks


def _orders(design: Design, works: Works, rows: tuple[RootWork, ...]) -> Iterator[str]:
    site = design.job.earthworks
    yield (
        "Fence first: rigid panels on the circle where it is drawn, before any machine or lorry comes, until the last "
        "stone lies. Nothing behind it: no heap, stone, fuel, mortar, washing-out, fire, rope or sign on a trunk."
    )
    yield (
        f"Boards over a layer that gives, {metres(BOARDS_BESIDE.amount)} beside every dig, before the first spade. On "
        "foot and with barrows only: what carries more is the arboriculturist's to name."
    )
    names = tuple(f"{opening(row.circle.tree.species)} {row.circle.tree.name}:" for row in rows)
    hands = [line for line in by_hand_lines(design, works.setting_out) if line.startswith(names)]
    if hands:
        yield (
            "By hand, with fork, trowel or air: "
            + "; ".join(line.split(". Protected")[0].replace(": ", ", ", 1) for line in hands)
            + ". Machines stand outside the fence. Topsoil is not stripped inside."
        )
    yield (
        f"No root over {millimetres(ROOT_KEPT.amount)} is cut without the arboriculturist's word; smaller ones with a "
        f"sharp saw, square. No dig within {metres(STEM_CLEARANCE.amount)} of a stem."
    )
    close = [row for row in rows if row.circle.works and row.circle.closest < STEM_CLEARANCE.amount]
    for row in close:
        yield (
            f"{opening(row.circle.tree.species)} {row.circle.tree.name}: the dig is drawn {metres(row.circle.closest)} "
            "from the stem. Move it, or stop there until the arboriculturist has answered."
        )
    yield "Bare roots: wet sacking at once, covered with their own soil the same day. Frost or drying wind: no dig."
    if any(row.circle.hose for row in rows):
        yield (
            f"Hose: a slot {millimetres(site.trench_width)} wide by hand, the hose threaded under the roots and never "
            "the roots cut for it; filled with the soil that came out, untamped over roots."
        )
    if any(row.fills for row in rows):
        yield (
            "Levels: soil over roots keeps the air from them. No bank inside before the answer; where it is agreed, as "
            "the arboriculturist says, loose, never rammed, and off the trunk."
        )
    moved = [f"of {row.circle.tree.species} {row.circle.tree.name} {lettered(works, row)}" for row in rows if row.heaps]
    if moved:
        yield f"Heaps move out of the circles: {'; '.join(moved)}."


def _key(
    left: Millimetres, down: Millimetres, room: Millimetres, height: Millimetres
) -> tuple[list[Mark], Millimetres]:
    marks: list[Mark] = []
    half = room * 0.6
    for number, (which, words) in enumerate(KEY):
        at = (left + half * (number % 2), down - 5.0 * (number // 2))
        marks += [*key_marks(at, which), Text(at=(at[0] + 14.5, at[1] + 0.7), words=words, height=height)]
    return marks, down - 5.0 * ((len(KEY) + 1) // 2)
