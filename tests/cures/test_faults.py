"""Faults put into an example, each of which must find its cure: the rules the examples as they stand have no use for.

The numbers put in are invented to bring a finding about; that it is gone afterwards is told by a design from nothing.
"""

from collections.abc import Callable, Sequence

import pytest

from beckwright.compose import design
from beckwright.cures import RULES, Bench, Look, proposals
from tests.cures.conftest import Set, reader

HAZEL, LARKSPUR, WITHY, FENNY = "hazel_bank", "larkspur_court", "withy_lane", "fennymoor_park"

FAULTS: tuple[tuple[str, str, Sequence[Set]], ...] = (
    ("freeboard-in-doubt", HAZEL, [("course.freeboard_wanted_mm", 60), ("course.edge_above_bed_mm", 165)]),
    ("no-lining-under-box", HAZEL, [("lining.under_box", False)]),
    ("lap-short", HAZEL, [("layers.lap_mm", 40)]),
    ("lap-under-water", HAZEL, [("lining.join", "loose"), ("lining.roll_length_m", 4)]),
    ("bank-steep", HAZEL, [("earthworks.bank_slope", 1.2)]),
    ("pit-sides", HAZEL, [("earthworks.batter", 0)]),
    ("settlement-small", HAZEL, [("course.settlement_percent", 0)]),
    ("lid-heavy", HAZEL, [("chamber.lid_kg", 90), ("chamber.lid_pieces", 1)]),
    ("pump-stuck", HAZEL, [("chamber.inside_mm", [300, 300]), ("chamber.pump_mm", [280, 200, 300])]),
    ("crates-leave-gap", HAZEL, [("reservoir.length_m", 2.3)]),
    ("end-below-overflow", HAZEL, [("reservoir.cover_level_m", 100.2)]),
    ("sheet-beyond-pool", HAZEL, [{"do": "change reach", "reach": 2, "keys": {"length_m": 0.1}}]),
    ("pool-short", HAZEL, [{"do": "change reach", "reach": 2, "keys": {"length_m": 0.3}}]),
    ("pool-shallow", HAZEL, [{"do": "change reach", "reach": 2, "keys": {"depth_mm": 20}}]),
    ("lip-wide", HAZEL, [{"do": "change reach", "reach": 2, "keys": {"width_mm": 500}}]),
    ("drop-splashes", HAZEL, [{"do": "change reach", "reach": 1, "keys": {"drop_mm": 500}}]),
    ("no-pool", HAZEL, [{"do": "take reach", "reach": 2}]),
    ("stones-washed", HAZEL, [("beds.pebbles.size_mm", [5, 12])]),
    ("running-cost", HAZEL, [("prices.running_limit_per_year", 60)]),
    ("siphons-back", WITHY, [("source.hose_outlet_above_lip_mm", -100)]),
    ("reserve-short", FENNY, [("season.leak_resting_l_h", 9), ("season.leak_running_l_h", 9)]),
    ("runs-dry-at-start", WITHY, []),
    ("plants-choke", HAZEL, [("course.freeboard_wanted_mm", 0), ("course.edge_above_bed_mm", 120)]),
    ("lip-drowned", HAZEL, [{"do": "change reach", "reach": 1, "keys": {"drop_mm": 20}}]),
    ("skims-steps", HAZEL, [{"do": "change reach", "reach": 1, "keys": {"drop_mm": 25, "lip_width_mm": 300}}]),
    ("plant-invasive", HAZEL, [("pockets.1.plants.1.plant", "Impatiens glandulifera")]),
    ("plant-unknown", HAZEL, [("pockets.1.plants.1.plant", "Caltha palustri")]),
    ("plant-spacing-odd", HAZEL, [("pockets.1.plants.1.spacing_mm", 3000)]),
    ("roots-near-lining", HAZEL, [("pockets.1.plants.1.plant", "Salix caprea")]),
    ("soil-at-edge", HAZEL, [("pockets.5.gap_mm", 0)]),
    ("plants-in-channel", HAZEL, [("course.freeboard_wanted_mm", 117), ("pockets.4.gap_mm", -350)]),
    ("pockets-overlap", HAZEL, [("pockets.3.from_m", 10.5), ("pockets.3.side", "left"), ("pockets.1.to_m", 11.0)]),
    ("lining-wider", HAZEL, [("pockets.3", None), ("pockets.1", None)]),
    ("supply-drop", HAZEL, [("electrics.length_m", 400)]),
    ("lights-dim", HAZEL, [("electrics.light_drop_percent", 2)]),
    ("lamp-seen", HAZEL, []),
    ("way-in", HAZEL, []),
    ("reach-short", HAZEL, [("earthworks.digger_reach_m", 0.8)]),
    ("cover-thin", FENNY, [("reservoir.cover_mm", 400)]),
    ("crates-overloaded", FENNY, [("reservoir.cover_mm", 400), ("reservoir.loads.2.wheel_kn", 90)]),
    ("digger-on-crates", HAZEL, [("reservoir.strength_vertical_kpa", 120)]),
    ("crates-creep", FENNY, [("reservoir.strength_long_term_kpa", 16)]),
    ("near-boundary", LARKSPUR, [("boundaries.1.clearance_mm", 100)]),
    ("pit-sides-in-roots", HAZEL, [("trees.3.stem_mm", 265)]),
    ("heaps-over-roots", FENNY, [("heaps", [{"name": "heap A", "holds": "subsoil", "x_m": 24.0, "y_m": 11.0}])]),
    ("inside-root-circle", HAZEL, [("trees.3.x_m", 9.0), ("trees.3.y_m", 8.5), ("trees.3.stem_mm", 200)]),
)
"""Code, example, and what is put in."""


@pytest.mark.parametrize(("code", "name", "faults"), FAULTS, ids=[row[0] for row in FAULTS])
def test_a_fault_finds_its_cure(bench: Callable[..., Bench], code: str, name: str, faults: Sequence[Set]) -> None:
    on, rule = bench(name, faults), RULES[code]
    meant = tuple(each for each in on.base.findings(rule.part) if each.code == code)
    assert meant, "the fault brings no such finding"
    made = list(proposals(on, meant[:1]))
    assert made, "no cure was found"
    for proposal in made:
        look = Look(on.edited(proposal.edits), design(reader(name)(on.edited(proposal.edits))))
        after = look.findings(rule.part)
        if proposal.gone:
            assert (code, meant[0].place) not in {(each.code, each.place) for each in after}, proposal.words
        if rule.weight is not None:
            assert rule.weight(look, meant[0]) < rule.weight(on.base, meant[0])
