"""A sketch as the files of a job folder: everything assumed is on the doubt list, and says so where it stands."""

from datetime import date

from beckwright.base.quantities import Length
from beckwright.base.words import METRIC, reads
from beckwright.languages import spoken
from beckwright.tables import visit as rows
from beckwright.visit.sketch import GROUND_AT_FOOT, Sketch, cover_below_ground
from beckwright.visit.tables import (
    course_points,
    flow_l_h,
    hose_line,
    hose_of,
    hoses_csv,
    pit_centre,
    prices_csv,
    pump_of,
    pumps_csv,
    survey_csv,
    survey_of,
)
from beckwright.visit.values import Unknown, Visit

MM = 1000.0
DOUBTS = (
    "survey.csv",
    "site.soil",
    "site.topsoil_mm",
    "source.lip_level_m",
    "course.line_m",
    "course.reaches",
    "course.settlement_percent",
    "beds.stones.depth_mm",
    "beds.stones.size_mm",
    "beds.stones.voids",
    "reservoir.cover_level_m",
    "reservoir.centre_m",
    "reservoir.voids",
    "hose.length_m",
    "hoses.csv",
    "pumps.csv",
    "running.1.hours_per_day",
    "running.1.days_per_year",
    "materials.stone_kg_m3",
    "materials.edge_stone_kg_m",
    "programme.people",
)
HOW = {
    "not known": "not known yet: taken from {low} to {high} {unit}",
    "by eye": "by eye: {low} to {high} {unit}",
    "measured": "measured: {low} to {high} {unit}",
    "chosen": "chosen",
}


def files_of(sketch: Sketch, visit: Visit, *, title: str, day: date) -> dict[str, str]:
    """Texts of the files by name."""
    made = {
        "job.toml": job_toml(sketch, visit, title=title, day=day),
        "survey.csv": survey_csv(survey_of(sketch)),
        "pumps.csv": pumps_csv(pump_of(sketch)),
        "hoses.csv": hoses_csv(hose_of(sketch)),
    }
    return made | ({"prices.csv": told} if (told := prices_csv(sketch, visit.prices)) else {})


def flow_name(visit: Visit) -> str:
    """Of the one flow there is yet."""
    return visit.look or ("wanted" if visit.flow_given else "everyday")


def job_toml(sketch: Sketch, visit: Visit, *, title: str, day: date) -> str:
    """Text of job.toml."""
    return "\n".join(
        [
            *_head(visit, title, day),
            *_place(sketch, visit),
            *_stream(sketch, visit),
            *_reaches(sketch),
            *_bed(sketch),
            *_works(sketch),
            *_running(sketch, visit),
            "",
        ]
    )


def _told(unknown: Unknown, scale: float = 1.0, unit: str = "m") -> str:
    low, high = (f"{end * scale:.3g}" for end in (unknown.low, unknown.high))
    return HOW[unknown.how].format(low=low, high=high, unit=unit)


def _head(visit: Visit, title: str, day: date) -> list[str]:
    measured = {each.key for each in visit.unknowns if each.how == "measured"}
    doubts = [*DOUBTS, *(["site.access_width_m"] if "access" not in measured else [])]
    name = flow_name(visit)
    if not visit.flow_given:
        doubts.append(f"flows.{name}")
    # Papers are told as the person was told who made the job.
    spoken_in = (("units", reads().value, METRIC.value), ("language", spoken(), "en"))
    return [
        "# A first sketch from a first visit: five answers, and the trade's habits for all the rest.",
        "# Every key says its unit. Levels are metres above the job's zero; x runs up the slope and y to its left.",
        "",
        "[job]",
        f"title = {_quoted(title)}",
        'revision = "A"',
        f"date = {day.isoformat()}",
        *(f"{key} = {_quoted(word)}" for key, word, usual in spoken_in if word != usual),
        "invented = true                   # the ground is: set to false once survey.csv is shot",
        "doubts = [                        # what nobody has measured yet; take out what you have",
        *(f"  {_quoted(doubt)}," for doubt in doubts),
        "]",
        "",
    ]


def _place(sketch: Sketch, visit: Visit) -> list[str]:
    access = visit.of("access")
    return [
        "[datum]                           # the one fixed mark all levels are told from",
        'name = "ground at the foot, until there is a nail"',
        f"level_m = {GROUND_AT_FOOT:.2f}",
        "",
        "[site]",
        f"soil = {_quoted(sketch.soil)}                    # dig a trial hole",
        "topsoil_mm = 200",
        f"access_width_m = {access.middle:.2f}             # {_told(access)}",
        "notes = [",
        '  "Before any digging: plans of all services, a locator, holes dug by hand.",',
        '  "No depth of a pit is free of risk: someone competent looks at it before each shift.",',
        '  "Water, electricity and trees: ask the licensed electrician and the council before anything is fixed.",',
        "]",
        "",
        "[programme]                       # without a first day there is no programme",
        "people = 2",
        f"machine = {_quoted(sketch.machine)}               # the largest the way in lets through",
        "",
    ]


def _stream(sketch: Sketch, visit: Visit) -> list[str]:
    points = course_points(sketch).tolist()
    lip = GROUND_AT_FOOT - rows.DUG_IN.amount + sketch.fall
    return [
        "[source]                          # the outlet box at the top",
        f"lip_level_m = {lip:.3f}",
        f"lip_width_mm = {_mm(sketch.width)}",
        'lip = "round edge"                # sharp edge, flat slab, round edge or boulders',
        "box_depth_mm = 300",
        "box_length_mm = 500",
        "hose_outlet_above_lip_mm = 50     # the hose ends above the water, or the stream siphons back",
        "",
        "[course]",
        f"# Length {_told(visit.of('length'))}; fall {_told(visit.of('fall'))}; width {_told(visit.of('width'))}.",
        "line_m = [                        # points of the course, source first",
        *(f"  [{x:.3f}, {y:.3f}]," for x, y in points),
        "]",
        "side_slope = 0.5                  # 0.5 across for each 1 up",
        f"edge_above_bed_mm = {_mm(rows.EDGE_ABOVE_BED.amount)}",
        "freeboard_wanted_mm = 100",
        "settlement_percent = 5",
        "",
    ]


def _reaches(sketch: Sketch) -> list[str]:
    run = [
        "[[course.reaches]]",
        'kind = "run"',
        f"length_m = {sketch.run_length:.3f}",
        f"fall_mm = {_mm(sketch.run_fall)}",
        f"width_mm = {_mm(sketch.width)}",
        'bed = "stones"',
        "",
    ]
    step = [
        "[[course.reaches]]",
        'kind = "step"',
        f"drop_mm = {_mm(sketch.drop)}",
        f"lip_width_mm = {_mm(sketch.width)}",
        'lip = "round edge"',
        "",
        "[[course.reaches]]",
        'kind = "pool"',
        f"length_m = {rows.POOL_LENGTH.amount:.2f}",
        f"width_mm = {_mm(rows.POOL_WIDER.amount * sketch.width)}",
        f"depth_mm = {_mm(rows.POOL_DEPTH.amount)}",
        "",
    ]
    last = [line for line in run if not line.startswith("length_m")]
    return [
        "# Runs, steps and pools in order downstream: even ones, until somebody has looked at the slope.",
        *((*run, *step) * sketch.steps),
        *last,
    ]


def _bed(sketch: Sketch) -> list[str]:
    return [
        "[beds.stones]                     # a make-up of the bed, by a name of your own",
        f"depth_mm = {_mm(sketch.stones)}",
        "size_mm = [20, 60]",
        "voids = 0.40                      # try it: fill a bucket with stones, then with water",
        'laid = "loose"                    # loose, bedded flat, with boulders or smooth',
        "",
        "[layers]",
        "fleece_over_mm = 4",
        "lining_mm = 1.0",
        "fleece_under_mm = 4",
        "blinding_mm = 0",
        "lining_kg_m2 = 1.15",
        "edge_allowance_mm = 300",
        "lap_mm = 300",
        "",
    ]


def _works(sketch: Sketch) -> list[str]:
    centre, crate = pit_centre(sketch), rows.CRATE.amount
    way = ", ".join(f"[{x:g}, {y:g}]" for x, y in hose_line(sketch))
    return [
        "[reservoir]                       # whole crates for the water in motion, a dry week, and a margin",
        f"cover_level_m = {GROUND_AT_FOOT - cover_below_ground():.2f}",
        f"centre_m = [{centre[0]:g}, {centre[1]:g}]",
        f"length_m = {sketch.pit[0]:.2f}",
        f"width_m = {sketch.pit[1]:.2f}",
        'fill = "crates"                   # crates, stones or open',
        f"voids = {rows.CRATE_VOIDS.amount:g}",
        f"crate_layers = {rows.CRATE_LAYERS.amount:.0f}",
        f"crate_mm = [{_mm(2 * crate)}, {_mm(crate)}, {_mm(crate)}]",
        f"cover_mm = {_mm(rows.COVER.amount)}",
        "cover_voids = 0.40",
        "cover_kn_m3 = 16",
        f"sump_mm = {_mm(rows.SUMP.amount)}",
        f"pump_depth_mm = {_mm(rows.PUMP_WATER.amount)}               # water the pump needs above the sump's floor",
        f"overflow_below_cover_mm = {_mm(rows.COVER.amount)}",
        "overflow_mm = 110",
        'overflow_to = "a soakaway whose place is not found yet"',
        "",
        "[[reservoir.loads]]",
        'name = "person"',
        "person_kg = 100",
        "contact_mm = [200, 100]",
        "",
        "[hose]",
        f"chosen = {_quoted(hose_of(sketch).name)}                 # a hose of hoses.csv",
        f"length_m = {sketch.hose:.2f}",
        f"line_m = [{way}]",
        'fittings = { "entrance" = 1, "bend 90 medium" = 3, "exit" = 1 }',
        "",
        "[pump]",
        f"chosen = {_quoted(pump_of(sketch).name)}           # a pump of pumps.csv: it holds the place of yours",
        "",
    ]


def _running(sketch: Sketch, visit: Visit) -> list[str]:
    name, energy = flow_name(visit), visit.prices.of("energy")
    tariff = (
        ["# energy_per_kwh =                # from the client's bill; say where it comes from and when"]
        if energy is None
        else [f"energy_per_kwh = {energy:.10g}", 'energy_source = "told at the first visit"']
    )
    return [
        "[flows]                           # litres an hour, by names of your own: write the others beside it",
        f"{name} = {flow_l_h(sketch.flow):.0f}",
        "",
        "[[running]]",
        f"flow = {_quoted(name)}",
        "hours_per_day = 10",
        f"days_per_year = {sketch.hours / 10:.0f}",
        "",
        "[prices]",
        f"currency = {_quoted(visit.prices.currency)}",
        *tariff,
        "",
        "[materials]",
        "stone_kg_m3 = 2600",
        f"edge_stone_kg_m = {sketch.edges:.0f}             # a metre of bank: from 50 to 500 is told",
        "edge_stone_mm = [200, 400]",
    ]


def _mm(length: Length) -> str:
    return f"{length * MM:.1f}".removesuffix(".0")


def _quoted(words: str) -> str:
    safe = words.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{safe}"'
