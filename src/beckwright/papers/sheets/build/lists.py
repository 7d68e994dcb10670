"""The lists of the build sheet: what is laid and set in which order, each number the stage's own."""

from collections.abc import Iterator

from beckwright.base.words import (
    band,
    ends_outward,
    grouped,
    headed,
    metres,
    number_in,
    opening,
    retold,
    sizes,
    unit_called,
    with_unit,
)
from beckwright.compose import Design, Works
from beckwright.papers.drawing import Across
from beckwright.papers.sheets.build.lip_cards import lip_cards
from beckwright.papers.sheets.ground.setting_out import told_level
from beckwright.papers.sheets.lining.sheet import people_words
from beckwright.papers.sheets.shared.flow import Block
from beckwright.stages.programme import Task, own_tasks, tasks_for
from beckwright.stages.stonework import JointAt, ToLift, Tonnage

WIDE = 122.0
"""Width of every list, mm."""
RIGHT: Across = "right"
LEFT: Across = "left"
PLACES_A_ROW = 4
"""Chainages of sills that fit beside one another."""
CAUTIONS = (
    "Pit and trenches: the person in charge looks at every side before each shift, after rain, after a fall of ground.",
    "Rated slings from the machine's lifting point, check valves on its boom, nobody under or beside the load.",
    "No mains lead, no pump in the water while anyone stands in it. A licensed electrician connects and tests.",
    "Cover pit and pools and fence the machine overnight: children drown in [a few centimetres] of water.",
    "Wash hands before eating: standing water and soil carry germs. Glasses and mask where stone is cut.",
)
ORDERS = (
    "Lining warm, slack and bedded into every corner; no shoes on it. Pleats straight up the bank, flap downstream.",
    "Every upper sheet over the lower one, so that water runs off the upper on to the lower. No lap in a pool.",
    "Water on the bare lining before any stone hides it: chalk the wet line, look at every edge.",
    "The lining comes up behind lips and edge stones: it holds the water, joints only steer it.",
    "The edge is trimmed last: after the stream has run at full and the fill has settled.",
)


def build_lists(design: Design, works: Works) -> tuple[Block, ...]:
    """Every list in the order it is wanted."""
    return (
        _order(design, works),
        Block(title="Read before starting", rows=tuple((line,) for line in ORDERS)),
        Block(title="Cautions", rows=tuple((_shallow(line),) for line in CAUTIONS)),
        _lips(design, works),
        _stone(works),
        _lifts(works),
        _joints(works),
        _pieces(works),
        *_laps(works),
        _crates(design, works),
    )


def _shallow(line: str) -> str:
    from beckwright.base.words import METRIC, reads

    return retold(line.replace("[a few centimetres]", "a few centimetres" if reads() is METRIC else "an inch or two"))


def _order(design: Design, works: Works) -> Block:
    """The programme where there is one, else the order of the trade without days."""
    if works.programme is not None:
        rows = [
            (f"{number}", opening(dated.task.name), dated.task.crew, f"{dated.starts.day} {dated.starts:%b}",
             f"{dated.ends.day} {dated.ends:%b}", "")
            for number, dated in enumerate(works.programme.tasks, 1)
        ]  # fmt: skip
    else:
        rows = [
            (f"{number}", opening(task.name), task.crew, "", "", "")
            for number, task in enumerate(_tasks(design, works), 1)
        ]
    return Block(
        title="Order of work, from the bottom up",
        rows=(("", "what", "who", "from", "to", "done"), *rows),
        widths=(8.0, 52.0, 22.0, 14.0, 14.0, 12.0),
        across=(RIGHT, LEFT, LEFT, RIGHT, RIGHT, LEFT),
    )


def _tasks(design: Design, works: Works) -> tuple[Task, ...]:
    force = design.job.force
    return own_tasks(tasks_for(works.items, force, len(works.setting_out.pegs)), design.job.own_tasks)


def _lips(design: Design, works: Works) -> Block:
    rows = []
    for card in lip_cards(design, works):
        level, below = told_level(card.level)
        rows.append(
            (
                card.name,
                f"{number_in(card.fall.lip.chainage, 'm'):.2f}",
                f"{card.peg.number}",
                below,
                level,
                f"{number_in(card.level.tolerance * 1000, 'mm'):,.0f}",
                f"{number_in(card.fall.lip.width * 1000, 'mm'):,.0f}",
                "" if card.stone is None else sizes(card.stone.size).removesuffix(f" {unit_called('mm')}"),
            )
        )
    heads = ("lip", headed("at", "m"), "peg", headed("down", "m"), "level", "±", "clear",
             headed("stone", "mm"))  # fmt: skip
    return Block(
        title="Lips: each has a card of its own",
        rows=(heads, *rows),
        widths=(17.0, 11.0, 8.0, 14.0, 16.0, 9.0, 13.0, 34.0),
        across=(LEFT, *(RIGHT,) * 7),
    )


def _stone(works: Works) -> Block:
    stone = works.stonework
    rows = [
        *(
            ((f"edge stones, {metres(stone.edge.bank)} of bank", stone.edge.order),)
            if stone.edge.order.high > 0
            else ()
        ),
        *((f"lip stones, {len(stone.lips)}", stone.lip_order) for _ in stone.lips[:1]),
        *((f"cheek stones, {stone.cheeks}", stone.cheek_order) for _ in range(min(stone.cheeks, 1))),
        *((f"{each.place}, {each.count}", each.order) for each in stone.fixed),
        *((f"{bed.name}, {with_unit(bed.depth * 1000, 'mm'):,.0f} deep", bed.order) for bed in stone.beds),
        ("all", stone.total),
    ]
    return Block(
        title=f"Stone, {unit_called('t')}",
        rows=(("class", "likely", "from", "to"), *(_stone_row(name, order) for name, order in rows)),
        widths=(68.0, 18.0, 18.0, 18.0),
        across=(LEFT, RIGHT, RIGHT, RIGHT),
    )


def _stone_row(name: str, order: Tonnage) -> tuple[str, ...]:
    step = 0.1 if order.high < 5000.0 else 1.0
    likely = f"{number_in(order.likely / 1000, 't'):,.{1 if step < 1 else 0}f}"
    low, high = ends_outward(order.low / 1000, order.high / 1000, step, "t")
    return opening(name), likely, low, high


def _lifts(works: Works) -> Block:
    rows = (
        (
            opening(lift.what),
            f"{lift.count}",
            f"{number_in(lift.mass, 'kg'):,.0f}",
            "–" if lift.reach is None else f"{number_in(lift.reach, 'm'):.2f}",
            "–" if lift.machine is None else f"{number_in(lift.machine, 'kg'):,.0f}",
            _by(lift),
        )
        for lift in works.stonework.lifts
    )
    heads = ("set singly, heaviest first", "", headed("each", "kg"), headed("reach", "m"), headed("lifts", "kg"), "who")
    return Block(
        title="Who lifts what",
        rows=(heads, *rows),
        widths=(43.0, 8.0, 16.0, 15.0, 19.0, 21.0),
        across=(LEFT, RIGHT, RIGHT, RIGHT, RIGHT, LEFT),
    )


def _by(lift: ToLift) -> str:
    words = {"the machine": "machine", "nobody can tell": "no chart told", "nothing told": "nothing told"}
    if lift.people is not None:
        return "one person" if lift.people == 1 else f"{lift.people} people"
    return words[lift.by]


def _joints(works: Works) -> Block:
    joints = works.stonework.joints
    low, _, high = joints.containers
    holds = "cans" if joints.kind == "foam" else "bags"
    rows = [
        *(row for each in joints.at_lips for row in _where(each, "behind and beside")),
        *(row for each in joints.at_sills for row in _where(each, "across its sills")),
        (f"to bring, one fills {metres(joints.fills)}", "", band(low, high, 1.0, holds)),
    ]
    return Block(
        title=f"{opening(joints.kind)}: steers water, seals nothing",
        rows=(("where", headed("at", "m"), headed("joint", "m")), *rows),
        widths=(50.0, 46.0, 26.0),
        across=(LEFT, LEFT, RIGHT),
    )


def _where(joint: JointAt, how: str) -> Iterator[tuple[str, str, str]]:
    """A row, or as many as the places of its sills fill."""
    for first in range(0, len(joint.at), PLACES_A_ROW):
        at = ", ".join(f"{number_in(each, 'm'):.2f}" for each in joint.at[first : first + PLACES_A_ROW])
        told = (f"{joint.name}, {how}", f"{number_in(joint.length, 'm'):.2f}") if first == 0 else ("", "")
        yield told[0], at, told[1]


def _pieces(works: Works) -> Block:
    rows = (
        (
            piece.letter,
            f"{number_in(piece.length, 'm'):.2f} x {number_in(piece.width, 'm'):.2f}",
            f"{number_in(piece.chainage[0], 'm'):.2f} to {number_in(piece.chainage[1], 'm'):.2f}",
            f"{number_in(piece.mass, 'kg'):,.0f}",
            people_words(piece.people),
        )
        for piece in reversed(works.lining.pieces)
    )
    heads = ("", headed("sheet", "m"), headed("lies from, to", "m"), unit_called("kg"), "people")
    return Block(
        title="Lining, in the order of laying: A first",
        rows=(heads, *rows),
        widths=(10.0, 34.0, 40.0, 14.0, 24.0),
        across=(LEFT, RIGHT, RIGHT, RIGHT, LEFT),
    )


def _laps(works: Works) -> Iterator[Block]:
    lining = works.lining
    rows = [
        (
            f"lap {number}",
            lap.place,
            f"{number_in(lap.chainage[0], 'm'):.2f} to {number_in(lap.chainage[1], 'm'):.2f}",
            f"{upper.letter} over {lower.letter}",
            "bond" if lap.bonded else "loose",
        )
        for number, (lap, upper, lower) in enumerate(
            zip(lining.laps, lining.pieces[:-1], lining.pieces[1:], strict=True), 1
        )
    ]
    rows += [
        ("fold", f"face of {slack.place}", f"{number_in(slack.chainage, 'm'):.2f}", "",
         f"{with_unit(slack.slack * 1000, 'mm'):,.0f} loose")
        for slack in lining.slacks
    ]  # fmt: skip
    if rows:
        yield Block(
            title="Laps, and slack at steps",
            rows=(("", "place", headed("at", "m"), "which", "how"), *rows),
            widths=(14.0, 34.0, 30.0, 20.0, 24.0),
            across=(LEFT, LEFT, RIGHT, LEFT, RIGHT),
        )


def _crates(design: Design, works: Works) -> Block:
    crates = works.crates
    if crates is None:
        fill = design.job.reservoir.fill
        return Block(title="Reservoir", rows=((f"No crates: filled with {fill}. See the reservoir sheet.",),))
    low, likely, high = crates.clips
    return Block(
        title="Crates",
        rows=(
            ("what", "how many"),
            ("layers; the second laid over the joints of the first", f"{crates.layers}"),
            ("in each layer, below and above in turn", f"{len(crates.lower.crates)}, {len(crates.upper.crates)}"),
            ("taken out for the chamber", f"{crates.taken}"),
            ("crates", f"{crates.count}"),
            (f"clips, likely {grouped(likely)}", f"{grouped(low)} to {grouped(high)}"),
            ("geotextile wrap", f"{with_unit(crates.wrap, 'm²'):.0f}"),
        ),
        widths=(92.0, 30.0),
        across=(LEFT, RIGHT),
    )
