"""Cures of the reservoir: larger, deeper, resting at another level, under another cover; and of its chamber."""

from collections.abc import Callable, Iterator

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.quantities import Length, Volume
from beckwright.base.words import litres, metres
from beckwright.cures.bench import Bench, least
from beckwright.cures.finding import flow_set, in_mm, mm, order, put, up, whole
from beckwright.cures.look import Look
from beckwright.cures.values import Order
from beckwright.job.units import LITRE_PER_HOUR
from beckwright.stages.crates.values import Screened
from beckwright.tables.crates import LID_PIECE, PUMP_ROOM
from beckwright.tables.practice import LAST_FALL

_WIDER = 0.05
"""Both sides of a pit without crates grow by steps of this, m."""
_DEEPER_MM = 50
"""A fill without crates goes down by steps of this."""
_COVER = 0.05
"""A cover grows by steps of this, m."""
_REST = 0.01
"""The rest level moves by steps of this, m."""
Gone = Callable[[Look], bool]


def of_levels(finding: Finding) -> Gone:
    """Whether no finding of the code is left among those of the levels."""
    return lambda look: all(other.code != finding.code for other in look.design.findings)


def of_season(finding: Finding) -> Gone:
    """Whether no finding of the code is left among those of the year."""
    return lambda look: all(other.code != finding.code for other in look.findings("season"))


def of_films(bench: Bench, finding: Finding) -> Gone:
    """Whether the films of the same story no longer tell the finding's code, nor of a level close to dry."""
    band, codes = bench.base.band_of(finding), {finding.code, "film-close-to-dry"}

    def gone(look: Look) -> bool:
        try:
            return all(other.code not in codes for other in look.filmed(band))
        except ArithmeticError:
            return False

    return gone


def short_of_water(bench: Bench, finding: Finding) -> Iterator[Order]:
    """By the levels: a higher rest level, a larger reservoir, or less water on the move."""
    yield from _more(bench, of_levels(finding))
    if finding.code != "first-fill":
        yield from _less_flow(bench, of_levels(finding))


def short_of_days(bench: Bench, finding: Finding) -> Iterator[Order]:
    """By the year: a higher rest level, a larger reservoir, or less water on the move."""
    yield from _more(bench, of_season(finding))
    yield from _less_flow(bench, of_season(finding))


def filmed_short(bench: Bench, finding: Finding) -> Iterator[Order]:
    """By the films: a higher rest level, or a larger reservoir."""
    yield from _more(bench, of_films(bench, finding))


def filmed_over(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Let it rest lower; or make it larger."""
    yield from rest_lower(bench, finding)
    yield from _more(bench, of_films(bench, finding))


def rest_lower(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Let it rest so low that what returns has room."""
    films = finding in bench.base.findings("film")
    gone = of_films(bench, finding) if films else of_levels(finding)
    below = float(bench.base.given["reservoir"].get("rested_below_overflow_mm", 0))

    def made(steps: int) -> Order:
        lower = steps * _REST * 1000
        words = f"Let the water rest {mm(lower)} lower, {mm(below + lower)} below the overflow."
        return order(words, put("reservoir.rested_below_overflow_mm", whole(below + lower)))

    yield from _found(bench, made, gone, 8)


def end_of_course(bench: Bench, _: Finding) -> Iterator[Order]:
    """Lower the overflow, or the whole reservoir, below the end of the bed."""
    each = bench.base.design
    below = up(each.reservoir.pit.overflow - each.course.end_level + _REST, _REST)
    given = bench.base.given["reservoir"]
    overflow = whole(given["overflow_below_cover_mm"] + below * 1000)
    yield order(f"Lower the overflow {mm(below * 1000)}.", put("reservoir.overflow_below_cover_mm", overflow))
    cover = whole(given["cover_level_m"] - below)
    yield order(f"Lower the whole reservoir {mm(below * 1000)}.", put("reservoir.cover_level_m", cover))


def raise_reservoir(bench: Bench, _: Finding) -> Iterator[Order]:
    """Raise the whole reservoir until no last fall is wanted."""
    each = bench.base.design
    higher = up(each.course.end_level - each.reservoir.pit.cover - LAST_FALL.amount, _REST)
    cover = whole(bench.base.given["reservoir"]["cover_level_m"] + higher)
    yield order(f"Raise the whole reservoir {mm(higher * 1000)}.", put("reservoir.cover_level_m", cover))


def deeper_cover(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Lay as much cover as carries what comes onto it; the pit goes down by as much."""
    cover = bench.base.design.job.reservoir.cover_depth
    part = "levels" if finding in bench.base.design.findings else "reservoir"

    def gone(look: Look) -> bool:
        told = look.findings("levels") if part == "levels" else look.findings("reservoir")
        return all((other.code, other.place) != (finding.code, finding.place) for other in told)

    def made(steps: int) -> Order:
        depth = up(cover, _COVER) + steps * _COVER
        words = f"Lay {mm(depth * 1000)} of cover instead of {mm(cover * 1000)}; the pit goes down by as much."
        return order(f"{words} Ask the crates' maker.", put("reservoir.cover_mm", in_mm(depth)))

    wanted = [load.cover or load.least for load in _loads(bench) if load.name in finding.place + finding.says]
    guess = round((max(wanted) - cover) / _COVER) if wanted else 1
    yield from _found(bench, made, gone, guess)


def thinner_cover(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Lay less over crates that creep."""
    cover = bench.base.design.job.reservoir.cover_depth

    def made(steps: int) -> Order:
        depth = max(cover - steps * _COVER, 0.0)
        return order(
            f"Lay {mm(depth * 1000)} of cover, not {mm(cover * 1000)}.", put("reservoir.cover_mm", in_mm(depth))
        )

    def gone(look: Look) -> bool:
        return all(other.code != finding.code for other in look.findings("reservoir"))

    yield from _found(bench, made, gone, 2)


def whole_crates(bench: Bench, _: Finding) -> Iterator[Order]:
    """Make the pit one that whole crates fill."""
    layout = bench.base.works.crates
    if layout is not None and layout.nearest is not None:
        length, width = (whole(side) for side in (layout.nearest.length, layout.nearest.width))
        yield order(
            f"Make the pit {metres(length)} by {metres(width)}: {layout.nearest.crates} crates to a layer.",
            put("reservoir.length_m", length),
            put("reservoir.width_m", width),
        )


def lid_in_pieces(bench: Bench, _: Finding) -> Iterator[Order]:
    """Part the lid until one person is asked to lift no more than the habit."""
    lid = bench.base.design.job.chamber.lid or 0.0
    pieces = int(-(-lid // LID_PIECE.amount))
    yield order(f"Part the lid in {pieces} pieces.", put("chamber.lid_pieces", pieces))


def wider_chamber(bench: Bench, _: Finding) -> Iterator[Order]:
    """Take a chamber with room beside the pump."""
    fit = bench.base.works.chamber
    if fit.inside is not None and fit.room is not None:
        wider = up(2 * (PUMP_ROOM.amount - fit.room) + 0.001, 0.01)
        sides = [in_mm(side + wider) for side in fit.inside]
        yield order(f"Take a chamber {mm(sides[0])} by {mm(sides[1])} inside.", put("chamber.inside_mm", [*sides]))


def more_slots(bench: Bench, _: Finding) -> Iterator[Order]:
    """Cut slots until the water runs in calmly."""
    area = int(np.ceil(bench.base.works.chamber.slots.wanted[1] * 1e4 / 10 - 1e-6)) * 10
    yield order(f"Cut slots of {area} cm² in all under the least level.", put("chamber.slots_cm2", area))


def _loads(bench: Bench) -> tuple[Screened, ...]:
    crates = bench.base.works.crates
    return crates.loads if crates else ()


def _more(bench: Bench, gone: Gone) -> Iterator[Order]:
    yield from _rest_higher(bench, gone)
    lacking = max(_short(bench), 0.05 * bench.base.design.reservoir.useful, 1e-3)
    crates = bench.base.design.job.reservoir.crate if bench.base.design.job.reservoir.fill == "crates" else None
    if crates is None:
        yield from _found(bench, _larger(bench), gone, _sides(bench, lacking))
    else:
        yield from _found(bench, _rows(bench, crates[0]), gone, round(lacking / _a_row(bench, crates[0])))
    yield from _found(bench, *_deeper(bench, lacking, gone))


def _short(bench: Bench) -> Volume:
    """Water that a restart lacks by the levels, m3."""
    filled = bench.base.design.reservoir
    return filled.pit.held(filled.pit.pump_minimum) - filled.pit.held(filled.lowest)


def _rest_higher(bench: Bench, gone: Gone) -> Iterator[Order]:
    below = float(bench.base.given["reservoir"].get("rested_below_overflow_mm", 0))
    if below > 0:
        made = order("Fill it to the overflow before the start.", put("reservoir.rested_below_overflow_mm", 0))
        tried = bench.tried(made.edits)
        if tried is not None and gone(tried):
            yield made


def _a_row(bench: Bench, crate: Length) -> Volume:
    design = bench.base.design
    return design.reservoir.useful * crate / design.job.reservoir.length


def _rows(bench: Bench, crate: Length) -> Callable[[int], Order]:
    length = bench.base.design.job.reservoir.length

    def made(steps: int) -> Order:
        words = f"Add {steps} row{'s' * (steps > 1)} of crates, {litres(steps * _a_row(bench, crate))} more"
        told = f"{words}: a pit {metres(length + steps * crate)} long instead of {metres(length)}."
        return order(told, put("reservoir.length_m", whole(length + steps * crate)))

    return made


def _sides(bench: Bench, lacking: Volume) -> int:
    """Steps by which both sides of a pit grow to hold what is lacking."""
    pit, useful = bench.base.design.job.reservoir, bench.base.design.reservoir.useful
    plan = pit.length * pit.width * (1 + lacking / max(useful, 1e-6))
    mean = (pit.length + pit.width) / 2
    return max(round((float(np.sqrt(mean**2 + plan - pit.length * pit.width)) - mean) / _WIDER), 1)


def _larger(bench: Bench) -> Callable[[int], Order]:
    pit, useful = bench.base.design.job.reservoir, bench.base.design.reservoir.useful

    def made(steps: int) -> Order:
        length, width = (whole(side + steps * _WIDER) for side in (pit.length, pit.width))
        more = useful * (length * width / (pit.length * pit.width) - 1)
        words = f"Make the pit {metres(length)} by {metres(width)} instead of {metres(pit.length)} by "
        told = f"{words}{metres(pit.width)}: {litres(more)} more of usable water."
        return order(told, put("reservoir.length_m", length), put("reservoir.width_m", width))

    return made


def _deeper(bench: Bench, lacking: Volume, gone: Gone) -> tuple[Callable[[int], Order], Gone, int]:
    given, pit = bench.base.given["reservoir"], bench.base.design.job.reservoir
    layers = given["fill"] == "crates" and "depth_mm" not in given
    each = given["crate_mm"][2] if layers else _DEEPER_MM
    guess = lacking / (pit.length * pit.width * pit.voids * each / 1000)

    def made(steps: int) -> Order:
        if layers:
            count = given["crate_layers"] + steps
            down = mm(steps * each)
            words = f"Lay {count} layers of crates instead of {given['crate_layers']}: the pit goes {down} deeper."
            return order(words, put("reservoir.crate_layers", count))
        depth = whole(given["depth_mm"] + each * steps)
        words = f"Dig the fill {mm(depth)} deep instead of {mm(given['depth_mm'])}."
        return order(words, put("reservoir.depth_mm", depth))

    return made, gone, round(guess)


def _less_flow(bench: Bench, gone: Gone) -> Iterator[Order]:
    each = bench.base.design
    name, was = max(((flow.name, flow.flow) for flow in each.job.flows), key=lambda pair: pair[1])
    step = up(was / 20, 100 * LITRE_PER_HOUR)

    def works(steps: int) -> bool:
        tried = bench.tried(flow_set(each, name, was - steps * step).edits) if was > steps * step else None
        return tried is not None and gone(tried)

    found = least(works, 4)
    if found is not None:
        yield flow_set(each, name, was - found * step)


def _found(bench: Bench, made: Callable[[int], Order], gone: Gone, guess: int) -> Iterator[Order]:
    """The order with the least steps that cures."""

    def works(steps: int) -> bool:
        tried = bench.tried(made(steps).edits)
        return tried is not None and gone(tried)

    found = least(works, guess)
    if found is not None:
        yield made(found)
