"""Checks on the works as written: reservoir, hose, pump, flows, running, and what stands around."""

from collections.abc import Iterator

from beckwright.job.convert import fill_depth_mm
from beckwright.job.model import Hose, Pump
from beckwright.job.wording.fault import Fault, choose
from beckwright.job.wording.sentences import shown
from beckwright.job.written.course import SourceWritten
from beckwright.job.written.site import SiteWritten, TreeWritten
from beckwright.job.written.works import HoseWritten, MaterialsWritten, PumpWritten, ReservoirWritten, RunningWritten
from beckwright.tables.fittings import FITTINGS


def hose_known(hose: HoseWritten, hoses: tuple[Hose, ...]) -> Iterator[Fault]:
    """Refuse a hose that is not on offer."""
    names = [one.name for one in hoses]
    if hose.chosen not in names:
        yield ("hose", "chosen"), *choose("chosen", hose.chosen, names, "the hoses of hoses.csv")


def fittings_known(hose: HoseWritten) -> Iterator[Fault]:
    """Refuse a fitting whose loss is not known."""
    for name in hose.fittings:
        if name not in FITTINGS:
            yield ("hose", "fittings", name), *choose("a fitting", name, FITTINGS, "the fittings known")


def fittings_counted(hose: HoseWritten) -> Iterator[Fault]:
    """Refuse fittings in numbers no route has."""
    for name, count in hose.fittings.items():
        if not 0 <= count <= 500:
            path = ("hose", "fittings", name)
            yield path, f"there are {shown(count)} of {shown(name)}", "A route has 0 to 500 of a fitting", "Count again"


def pump_known(pump: PumpWritten, pumps: tuple[Pump, ...]) -> Iterator[Fault]:
    """Refuse a pump that is not on offer."""
    names = [one.name for one in pumps]
    if pump.chosen not in names:
        yield ("pump", "chosen"), *choose("chosen", pump.chosen, names, "the pumps of pumps.csv")


def flows_differ(flows: dict[str, float]) -> Iterator[Fault]:
    """Refuse two names for one flow."""
    seen: dict[float, str] = {}
    for name, flow in flows.items():
        if flow in seen:
            found = f"{name} and {seen[flow]} are both {flow:g} l/h"
            yield ("flows", name), found, "Each named flow is a flow of its own", "Change or drop one of them"
        seen.setdefault(flow, name)


def running_known(running: list[RunningWritten], flows: dict[str, float]) -> Iterator[Fault]:
    """Refuse a running row whose flow is not of the job."""
    for place, row in enumerate(running):
        if row.flow not in flows:
            yield ("running", place, "flow"), *choose("flow", row.flow, flows, "the flows under [flows]")


def hours_in_year(running: list[RunningWritten]) -> Iterator[Fault]:
    """Refuse more running hours than a year has."""
    hours = sum(row.hours_per_day * row.days_per_year for row in running)
    if hours > 366 * 24:
        found, rule = f"the rows add up to {hours:.0f} h a year", "A year has 8784 h, and one flow runs at a time"
        yield ("running",), found, rule, "Look at hours_per_day and days_per_year"


def fill_given(reservoir: ReservoirWritten) -> Iterator[Fault]:
    """Refuse a fill whose height is not given, or given twice and differently."""
    crates = reservoir.crate_layers is not None and reservoir.crate_mm is not None
    if reservoir.fill == "crates" and not crates:
        remedy = "Write crate_layers, and crate_mm as [length, width, height]"
        yield ("reservoir", "fill"), "crate_layers or crate_mm is missing", "A fill of crates needs both", remedy
    if reservoir.fill != "crates" and reservoir.depth_mm is None:
        yield (
            ("reservoir", "fill"),
            "depth_mm is missing",
            f"A fill of {reservoir.fill} needs its height",
            "Write depth_mm, in mm",
        )
    if reservoir.depth_mm is not None and crates and not _same_depth(reservoir):
        layers = fill_depth_mm(reservoir.model_copy(update={"depth_mm": None}))
        found = f"depth_mm is {reservoir.depth_mm:g} mm and the layers of crates make {layers:g} mm"
        yield ("reservoir", "depth_mm"), found, "The two agree", "Take depth_mm out"
    if reservoir.voids == 1 and reservoir.fill != "open":
        found, rule = "voids is 1", f"A fill of {reservoir.fill} takes up room itself"
        yield ("reservoir", "voids"), found, rule, "Write the supplier's share, below 1"


def _same_depth(reservoir: ReservoirWritten) -> bool:
    return reservoir.depth_mm == fill_depth_mm(reservoir.model_copy(update={"depth_mm": None}))


def levels_in_order(reservoir: ReservoirWritten) -> Iterator[Fault]:
    """Refuse levels out of order: from the top cover, overflow, water at rest, water the pump needs."""
    fill = fill_depth_mm(reservoir)
    if not fill:
        return
    bottom = reservoir.cover_mm + fill + reservoir.sump_mm
    pump = bottom - reservoir.pump_depth_mm
    overflow = reservoir.overflow_below_cover_mm
    rested = overflow + reservoir.rested_below_overflow_mm
    path = ("reservoir", "pump_depth_mm")
    if pump <= overflow:
        found = (
            f"the pump needs water up to {pump:.0f} mm below the cover, and the overflow is {overflow:.0f} mm below it"
        )
        remedy = f"Deepen the reservoir by more than {overflow - pump:.0f} mm, or lower pump_depth_mm"
        yield path, found, "The overflow lies above the water the pump needs", remedy
    elif pump <= rested:
        found = f"the water rests {rested:.0f} mm below the cover, and the pump needs it up to {pump:.0f} mm below"
        remedy = f"Lower rested_below_overflow_mm by more than {rested - pump:.0f} mm"
        yield ("reservoir", "rested_below_overflow_mm"), found, "At rest there is water for the pump", remedy


def hose_lets_go_above(source: SourceWritten, reservoir: ReservoirWritten) -> Iterator[Fault]:
    """Refuse a hose that ends below the reservoir's overflow: the water would run back by itself."""
    outlet = source.lip_level_m + source.hose_outlet_above_lip_mm / 1000
    overflow = reservoir.cover_level_m - reservoir.overflow_below_cover_mm / 1000
    if outlet <= overflow:
        found = f"the hose lets go at {outlet:.3f} m, and the reservoir overflows at {overflow:.3f} m"
        rule, remedy = "The water is lifted to the source", "Look over the levels of source and reservoir"
        yield ("source", "lip_level_m"), found, rule, remedy


def loads_complete(reservoir: ReservoirWritten) -> Iterator[Fault]:
    """Refuse a load that is not a wheel or a person."""
    for place, load in enumerate(reservoir.loads):
        given = [key for key in ("wheel_kn", "person_kg") if getattr(load, key) is not None]
        if len(given) != 1:
            found = f"{shown(load.name)} has {' and '.join(given) or 'no weight'}"
            remedy = "Write wheel_kn, in kN, or person_kg, in kg"
            yield ("reservoir", "loads", place), found, "A load is a wheel or a person", remedy


def strengths_in_order(reservoir: ReservoirWritten) -> Iterator[Fault]:
    """Refuse a strength for decades above the strength for minutes."""
    short, long = reservoir.strength_vertical_kpa, reservoir.strength_long_term_kpa
    if short is not None and long is not None and long > short:
        found = f"long-term strength is {long:g} kPa and short-term {short:g} kPa"
        rule, remedy = "Long-term strength is the lower of the two", "Look whether the two are the wrong way round"
        yield ("reservoir", "strength_long_term_kpa"), found, rule, remedy


def stems_once(trees: list[TreeWritten]) -> Iterator[Fault]:
    """Refuse a tree without a stem, or with two accounts of its stems."""
    for place, tree in enumerate(trees):
        if (tree.stem_mm is None) == (tree.stems_mm is None):
            found = f"tree {shown(tree.name)} has {'no stem' if tree.stem_mm is None else 'stem_mm and stems_mm'}"
            remedy = "Write stem_mm, or stems_mm for a tree with several stems, in mm at 1.5 m above the ground"
            yield ("trees", place), found, "A tree gives its stem once", remedy
        for stem in tree.stems_mm or ():
            if not 10 <= stem <= 5000:
                found = f"a stem is {shown(stem, 'stems_mm')}"
                yield ("trees", place, "stems_mm"), found, "A stem is 10 to 5000 mm", "Write the diameter in mm"


def trees_once(trees: list[TreeWritten]) -> Iterator[Fault]:
    """Refuse one name for two trees."""
    seen: set[str] = set()
    for place, tree in enumerate(trees):
        if tree.name in seen:
            yield (
                ("trees", place, "name"),
                f"there are two trees {shown(tree.name)}",
                "Each tree has a name",
                "Rename one",
            )
        seen.add(tree.name)


def groundwater_in_order(site: SiteWritten) -> Iterator[Fault]:
    """Refuse groundwater that is deeper in winter than in summer."""
    winter, summer = site.groundwater_winter_m, site.groundwater_summer_m
    if winter is not None and summer is not None and winter > summer:
        found = f"groundwater is {winter:g} m down in winter and {summer:g} m in summer"
        rule, remedy = "Groundwater stands higher in winter", "Look whether the two are the wrong way round"
        yield ("site", "groundwater_winter_m"), found, rule, remedy


def edge_stones_sized(materials: MaterialsWritten) -> Iterator[Fault]:
    """Refuse edge stones with the sizes the wrong way round."""
    small, large = materials.edge_stone_mm
    if small > large:
        found = f"edge stones from {small:g} to {large:g} mm"
        yield ("materials", "edge_stone_mm"), found, "The smaller size comes first", "Turn the two round"
