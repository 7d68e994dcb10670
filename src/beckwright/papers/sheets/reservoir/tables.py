"""Tables and cautions of the reservoir sheet: the block, what presses on it, what lifts it, and the chamber."""

from collections.abc import Iterator

from beckwright.base.quantities import Pressure, Ratio
from beckwright.base.words import band, kilopascals, metres, millimetres, number_in, share, with_unit
from beckwright.compose import Design
from beckwright.papers.drawing import Across, Mark, Millimetres
from beckwright.papers.sheets.reservoir.names import running_levels
from beckwright.papers.sheets.reservoir.place import Standing, gives_way, layers_of
from beckwright.papers.sheets.shared.frame import heading
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.crates import ChamberFit, CrateLayout
from beckwright.tables.crates import LID_BEARS, LID_PIECE

ASK = "Pressure on the crates: screening only, ask the supplier's engineer"
UNTOLD = "not told"
STEP, HEIGHT = 4.1, 1.9
Row = tuple[str, ...]


def column(
    design: Design, layout: CrateLayout | None, chamber: ChamberFit, left: Millimetres, top: Millimetres
) -> tuple[list[Mark], Millimetres]:
    """All tables one under the other; gives back the height where they end."""
    pair: tuple[Across, ...] = ("left", "right")
    three: tuple[Across, ...] = ("left", *("right",) * 4)
    blocks: list[tuple[str, tuple[float, ...], tuple[Across, ...], list[Row]]] = [
        ("Pit and fill", (62.0, 82.0), pair, list(_block(design, layout)))
    ]
    if layout is not None:
        blocks.append((ASK, (48.0, 22.0, 26.0, 28.0, 20.0), three, list(_loads(design, layout))))
    uplift = list(_uplifts(design))
    blocks.append(("Ground water under the lining, in winter", (48.0, 22.0, 26.0, 28.0, 20.0), three, uplift))
    blocks.append(("Chamber, pump and lid", (62.0, 82.0), pair, list(_chamber(design, chamber))))
    marks: list[Mark] = []
    down = top
    for words, widths, across, rows in blocks:
        heads = 1 if len(widths) > 2 else 0
        marks.append(heading((left, down - 3.2), words, 2.6))
        drawn, down = table((left, down - 4.6), widths, rows, height=HEIGHT, step=STEP, across=across, heads=heads)
        marks += drawn
        down -= 3.0
    return marks, down


def _block(design: Design, layout: CrateLayout | None) -> Iterator[Row]:
    pit, filled = design.job.reservoir, design.reservoir
    yield "inside the lining", f"{metres(pit.length)} by {metres(pit.width)}"
    if layout is not None:
        low, likely, high = layout.clips
        yield "crates to buy, none cut", f"{layout.count}"
        yield "places in all layers; given up to the chamber", f"{layout.places}; {layout.taken}"
        yield "upper joints that stand over joints", share(layout.stacked) if layout.layers > 1 else "one layer"
        yield (
            "plan that no crate covers",
            f"{with_unit(layout.gap, 'm²'):.2f}, round the chamber {with_unit(layout.around, 'm²'):.2f}",
        )
        yield "washed stone into it, by hand", f"{with_unit(layout.gap_fill, 'm³'):.2f}"
        yield "geotextile round the block", f"{with_unit(layout.wrap, 'm²'):.1f}"
        yield "clips, the maker's rule first", f"{low} to {high}, {likely} likely"
    yield "overflow to", pit.overflow_to
    for name, low_level, high_level in running_levels(design):
        lacks = high_level <= filled.pit.floor
        words = "below the floor: water is missing" if lacks else band(low_level, high_level, 0.005, "m")
        yield f"level while {name} runs", words


def _loads(design: Design, layout: CrateLayout) -> Iterator[Row]:
    yield "load, with the cover", "presses", "wants short-term", "designed with", "share"
    for load in layout.loads:
        name = load.name if load.comes == "told" else f"{load.name}, {_comes(load.comes)}"
        yield name, kilopascals(load.design), kilopascals(load.wanted), _told(load.strength), _share(load.use)
    creep, side = layout.creep, layout.side
    low = None if creep.strength is None else creep.strength[0]
    yield "what stands for decades", kilopascals(creep.standing), "–", _told(low), _share(creep.use)
    presses = band(float(side.design[0]), float(side.design[-1]), 1, "kPa", scale=1e-3)
    use = None if side.use is None else float(side.use[-1])
    yield "ground on the side, at the foot", presses, "–", _told(side.strength), _share(use)


def _comes(comes: str) -> str:
    return {"digger": "filling in", "stone": "for good", "typical": "if it comes"}.get(comes, comes)


def _uplifts(design: Design) -> Iterator[Row]:
    yield "state", "head", "lifts", "holds down", "share"
    for uplift in design.reservoir.uplifts:
        yield (
            uplift.state,
            millimetres(max(uplift.head, 0.0)),
            kilopascals(uplift.uplift),
            kilopascals(uplift.weight),
            "floats" if uplift.use == float("inf") else share(uplift.use),
        )
    if not design.reservoir.uplifts:
        yield "winter water not told: dig a trial hole", "–", "–", "–", "–"


def _chamber(design: Design, chamber: ChamberFit) -> Iterator[Row]:
    given, slots = design.job.chamber, chamber.slots
    sizes = UNTOLD if chamber.inside is None else " by ".join(metres(side) for side in chamber.inside)
    yield "inside; depth from cover to where the pump stands", f"{sizes}; {metres(chamber.depth)}"
    room = UNTOLD if chamber.room is None else millimetres(chamber.room)
    yield "room beside the pump, each side", room
    yield "pump comes out by its rope, nobody in", _yes(told=given.lifts_out)
    wanted = band(slots.wanted[0], slots.wanted[1], 10, "cm²", scale=1e4)
    area = UNTOLD if slots.area is None else f"{with_unit(slots.area * 1e4, 'cm²'):,.0f}"
    yield f"slots; wanted at {slots.flow}", f"{area}; {wanted}"
    yield (
        f"water through the slots at {slots.flow}",
        (UNTOLD if slots.velocity is None else f"{with_unit(slots.velocity, 'm/s'):.3f}"),
    )
    piece = (
        UNTOLD
        if chamber.piece is None
        else f"{with_unit(chamber.piece, 'kg'):.0f} a piece, {with_unit(LID_PIECE.amount, 'kg'):.0f} the most"
    )
    yield "lid", f"{given.lid_pieces} {'pieces' if given.lid_pieces > 1 else 'piece'}; {piece}"
    bears = UNTOLD if given.lid_bears is None else f"{with_unit(given.lid_bears, 'kg'):.0f}"
    yield "lid and grille bear; wanted", f"{bears}; {with_unit(LID_BEARS.amount, 'kg'):.0f}"
    yield "lid locks; grille under it", f"{_yes(told=given.locked)}; {_yes(told=given.grille)}"


def cautions(design: Design, layout: CrateLayout | None, stands: Standing) -> Iterator[str]:
    """What can hurt somebody first, then what goes wrong."""
    apart = [
        words
        for words, lies in (
            ("the sump of the dig sheets", stands.sump_elsewhere),
            ("the start of the hose", stands.hose_elsewhere),
        )
        if lies
    ]
    if apart and stands.chamber is not None:
        yield (
            f"The chamber, {number_in(stands.chamber.length, 'm'):.2f} by "
            f"{number_in(stands.chamber.width, 'm'):.2f} outside, is drawn where the "
            f"fewest crates give way; {' and '.join(apart)} do not match it. Settle one place before digging."
        )
    if layout is not None:
        drawn = sum(not gives_way(crate, stands.chamber) for layer in layers_of(layout) for crate in layer.crates)
        if drawn != layout.count:
            yield f"{drawn} crates are drawn and {layout.count} counted: the layers give way unlike. Count again."
    yield (
        "Children: it is deep enough to drown in. Cover or fence the open pit whenever it is left; grille fixed with "
        "a tool and lid locked before the first water."
    )
    yield (
        "Nobody climbs into the chamber, not even head first: bad air, and no way out. Power off and locked off, then "
        "the pump comes up by its rope."
    )
    yield (
        f"Lid: one piece at a time, {with_unit(LID_PIECE.amount, 'kg'):.0f} the most for one "
        "person; never left off unwatched."
    )
    yield "The competent person named for this job has looked at the sides before anybody goes into the pit."
    if layout is not None:
        yield (
            "Nobody and no machine on bare crates. Fill all four sides in even layers, by bucket and rake from beside "
            "the pit; fence the cover off until the supplier's engineer has answered."
        )
    yield (
        "Hose and cable go out over the lining's edge, not through it. The overflow is drawn at the end away from the "
        "stream; nobody told where it leaves: settle it before digging."
    )


def _told(pressure: Pressure | None) -> str:
    return UNTOLD if pressure is None else kilopascals(pressure)


def _share(use: Ratio | None) -> str:
    return "–" if use is None else share(use)


def _yes(*, told: bool | None) -> str:
    return UNTOLD if told is None else "yes" if told else "no"
