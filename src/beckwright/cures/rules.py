"""Which finding is cured how: every code has its rule here, or its reason why no edit of the job cures it."""

from collections.abc import Callable, Iterator, Mapping

from beckwright.base.findings import Finding
from beckwright.base.values import value
from beckwright.cures import digging, edges, electrics, falls, lining, planting, reservoir, stones, supply, trees, water
from beckwright.cures.bench import Bench
from beckwright.cures.look import Look, Part
from beckwright.cures.values import Order

Orders = Callable[[Bench, Finding], Iterator[Order]]
Weight = Callable[[Look, Finding], float]


@value
class Rule:
    """How one kind of finding is cured.

    part    of the findings it belongs to: who looks whether it is gone works that part alone
    orders  cures to be tried, the plainest first
    weight  what must become clearly less; without one, the number of such findings by their severity
    """

    part: Part
    orders: Orders
    weight: Weight | None = None


_ROWS: Mapping[Part, Mapping[str, Orders | tuple[Orders, Weight]]] = {
    "levels": {
        "freeboard-short": edges.short,
        "freeboard-in-doubt": edges.in_doubt,
        "plants-choke": edges.choked,
        "sheet-clings": water.clings,
        "runs-unseen": (water.unseen, water.share_missing),
        "no-sheet": water.no_sheet,
        "lip-drowned": falls.drowned,
        "lip-wide": falls.wide,
        "sheet-beyond-pool": falls.longer_pools,
        "pool-short": falls.longer_pools,
        "pool-shallow": falls.deeper_pools,
        "drop-splashes": falls.two_drops,
        "skims-steps": falls.skims,
        "stones-washed": stones.larger,
        "no-pool": falls.dig_pools,
        "pump-too-small": supply.too_small,
        "hose-narrow": supply.narrow,
        "valve-needed": supply.slower,
        "running-cost": supply.cheaper,
        "thriftier-pair": supply.thriftier,
        "runs-dry-at-start": reservoir.short_of_water,
        "first-fill": reservoir.short_of_water,
        "end-below-overflow": reservoir.end_of_course,
        "last-fall": reservoir.raise_reservoir,
        "crates-overloaded": reservoir.deeper_cover,
        "inside-root-circle": (trees.spare_roots, trees.works_inside),
        "near-boundary": trees.boundary,
        "way-in": digging.narrower_machine,
        "reach-short": (digging.longer_reach, digging.reach_lacking),
    },
    "film": {
        "film-runs-dry": reservoir.filmed_short,
        "film-close-to-dry": reservoir.filmed_short,
        "film-overflows-at-stop": reservoir.filmed_over,
        "float-level": reservoir.rest_lower,
        "film-slow-start": supply.check_valve,
        "film-stalls": supply.another_pair,
        "siphons-back": supply.siphon,
    },
    "ground": {
        "undermines-footing": trees.footing,
        "pit-sides": digging.batter,
        "heap-too-near": (digging.heaps, digging.heaps_near),
        "pit-sides-in-roots": (trees.pit_sides_out, trees.sides_inside),
        "heaps-over-roots": (trees.heaps_out, trees.heaped_over),
        "lip-on-fill": (digging.lip_into_cut, digging.on_fill),
        "settlement-small": edges.settle,
        "fill-over-roots": edges.lower_over_roots,
        "bank-steep": digging.bank,
        "soil-left": (digging.balance, digging.subsoil_moved),
        "soil-short": (digging.balance, digging.subsoil_moved),
    },
    "lining": {
        "lap-under-water": lining.bonded,
        "lap-short": lining.longer_laps,
        "piece-heavy": (lining.shorter_pieces, lining.heavier_pieces),
        "splash-widens-sheet": lining.for_splash,
        "splash-to-windward": lining.for_splash,
        "no-lining-under-box": lining.under_box,
    },
    "stone": {"edge-stone-guessed": stones.edge_stone},
    "reservoir": {
        "crates-leave-gap": reservoir.whole_crates,
        "cover-thin": reservoir.deeper_cover,
        "digger-on-crates": reservoir.deeper_cover,
        "stone-on-crates": reservoir.deeper_cover,
        "crates-creep": reservoir.thinner_cover,
        "lid-heavy": reservoir.lid_in_pieces,
        "pump-stuck": reservoir.wider_chamber,
        "slots-fast": reservoir.more_slots,
    },
    "electrics": {
        "supply-drop": electrics.supply_cable,
        "lights-dim": electrics.light_cable,
        "lamp-dazzles": electrics.hoods,
        "lamp-seen": electrics.hoods,
    },
    "planting": {
        "plant-invasive": planting.another_plant,
        "plant-invasive-elsewhere": planting.another_plant,
        "plant-sold-as": planting.another_plant,
        "plant-unknown": planting.spelled,
        "roots-near-lining": planting.another_plant,
        "plant-wrong-zone": planting.another_plant,
        "plant-wrong-light": planting.another_plant,
        "plant-spacing-odd": planting.usual_spacing,
        "pocket-bare": planting.whole_pocket,
        "pockets-overlap": planting.apart,
        "pocket-near-water": planting.out_of_water,
        "lining-wider": planting.drawn_back,
        "soil-at-edge": planting.off_the_edge,
        "plants-in-channel": planting.out_of_channel,
    },
    "season": {"reserve-short": reservoir.short_of_days},
    "money": {"dearer-for-years": supply.cheapest_for_years},
}


def _rule(part: Part, row: Orders | tuple[Orders, Weight]) -> Rule:
    orders, weight = row if isinstance(row, tuple) else (row, None)
    return Rule(part=part, orders=orders, weight=weight)


RULES: Mapping[str, Rule] = {code: _rule(part, row) for part, rows in _ROWS.items() for code, row in rows.items()}
"""Rules by the code of the finding they cure."""
