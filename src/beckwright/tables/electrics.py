"""Cables, limits of drop, transformers, ducts, zones round water and habits of lighting. For advice only."""

from math import radians

from beckwright.base.tabled import Tabled, assumed, habit, quoted


def _rate(millivolts: float, place: str) -> Tabled:
    return quoted(millivolts / 1000, "V/A/m", "bs-7671", place, jurisdiction="UK")


_PVC = "two-core copper, 70 °C thermoplastic, single-phase: Table 4D2B"
_XLPE = "two-core armoured copper, 90 °C thermosetting, single-phase: Table 4E4B"

DROP_RATES: dict[tuple[str, float], Tabled] = {
    ("PVC", 1.0): _rate(44, _PVC),
    ("PVC", 1.5): _rate(29, _PVC),
    ("PVC", 2.5): _rate(18, _PVC),
    ("PVC", 4.0): _rate(11, _PVC),
    ("PVC", 6.0): _rate(7.3, _PVC),
    ("PVC", 10.0): _rate(4.4, _PVC),
    ("XLPE", 1.5): _rate(31, _XLPE),
    ("XLPE", 2.5): _rate(19, _XLPE),
    ("XLPE", 4.0): _rate(12, _XLPE),
    ("XLPE", 6.0): _rate(7.9, _XLPE),
    ("XLPE", 10.0): _rate(4.7, _XLPE),
    ("XLPE", 16.0): _rate(2.9, _XLPE),
}
"""Volts lost for each ampere and metre, by insulation and nominal size in mm2."""

LIGHTING_DROP = quoted(0.03, "1", "bs-7671", "Appendix 4, Table 4Ab, lighting", jurisdiction="UK")
OTHER_DROP = quoted(0.05, "1", "bs-7671", "Appendix 4, Table 4Ab, other uses", jurisdiction="UK")
LONG_RUN_FROM = quoted(100.0, "m", "bs-7671", "Appendix 4, Table 4Ab, note", jurisdiction="UK")
LONG_RUN_MORE = quoted(5e-5, "1/m", "bs-7671", "0.005 % for each metre beyond, Table 4Ab, note", jurisdiction="UK")
LONG_RUN_MOST = quoted(0.005, "1", "bs-7671", "no more than 0.5 % added, Table 4Ab, note", jurisdiction="UK")

PUMP_POWER_FACTOR = habit(0.9, 0.85, 0.95, "1", "small submersible pump; its plate tells")
LIGHTS_POWER_FACTOR = habit(0.9, 0.85, 0.95, "1", "small lights with their drivers")
TRANSFORMER_LOADING = habit(0.8, 0.8, 0.8, "1", "a transformer is loaded to this share of its rating at most")
TRANSFORMER_EFFICIENCY = assumed(0.85, 0.75, 0.92, "1", "small transformer or driver near its full load")
TRANSFORMERS: dict[str, Tabled] = {
    f"{size:g} VA": habit(size, size, size, "VA", "ratings usually on offer")
    for size in (20.0, 50.0, 60.0, 100.0, 150.0, 200.0, 300.0, 500.0)
}
LIGHTS_DROP = habit(0.05, 0.03, 0.10, "1", "drop to the last light at low voltage; beyond a tenth it shows")

DRAWN_LINE_SLACK = habit(0.05, 0.03, 0.10, "1", "a trench is never as straight as it was drawn")
RISES = assumed(3.0, 2.0, 5.0, "m", "both ends together: out of the trench, up the wall, into the box")
LIGHT_LINE_SLACK = habit(0.10, 0.05, 0.20, "1", "light cable round stones and plants, over the straight line")
LIGHT_TAIL = assumed(0.5, 0.3, 1.0, "m", "slack at each light, to lift it out and to turn it")

COVER = habit(
    0.60,
    0.45,
    0.60,
    "m",
    "cover of a buried cable: 450 mm under lawn and path, 600 mm where it is dug",
    jurisdiction="UK",
)
TAPE_OVER = habit(0.20, 0.15, 0.20, "m", "warning tape over a buried cable", jurisdiction="UK")
DUCT_FILL = habit(0.40, 0.35, 0.45, "1", "share of a duct's section taken by cables, so that they can be drawn in")
DUCTS: dict[str, Tabled] = {
    f"{bore:g} mm": habit(bore / 1000, bore / 1000, bore / 1000, "m", "bores of ducts usually on offer")
    for bore in (32.0, 50.0, 75.0, 94.0)
}
_ARMOURED = "three-core armoured cable, 600/1000 V; makers differ"
CABLE_DIAMETERS: dict[float, Tabled] = {
    size: quoted(over / 1000, "m", "duct-page", _ARMOURED)
    for size, over in ((1.5, 12.8), (2.5, 14.1), (4.0, 15.3), (6.0, 16.6), (10.0, 19.5), (16.0, 21.2))
}
"""Over the sheath, by nominal size in mm2."""

_ZONES = "zones of basins; for fountains no zone 2 is drawn (recalled)"
ZONE_1_OUT = quoted(2.0, "m", "iec-60364-7-702", _ZONES)
ZONE_1_UP = quoted(2.5, "m", "iec-60364-7-702", _ZONES)
ZONE_2_OUT = quoted(1.5, "m", "iec-60364-7-702", f"beyond zone 1; {_ZONES}")
SOCKET_FROM_WATER = habit(2.0, 2.0, 2.0, "m", "sockets and other connections this far from open water")
IN_WATER_MOST = quoted(
    12.0, "V", "iec-60364-7-702", "zone 0: SELV, 12 V a.c. or 30 V d.c., its source outside the zones"
)

UNDER_LIP = assumed(0.05, 0.03, 0.10, "m", "a lamp under a lip sits this far back from where the sheet falls")
LANDING = assumed(0.5, 0.3, 1.0, "m", "a lamp under a lip whose aim nobody told looks this far downstream, at the bed")
FLAT_FACE = assumed(
    radians(90), radians(60), radians(90), "rad", "a bare flat face is seen up to this far off its axis"
)
TURN_MARGIN = assumed(
    radians(5), radians(5), radians(10), "rad", "a lamp is turned this much farther than the sum says"
)
SCREEN_AT = assumed(0.3, 0.2, 0.5, "m", "a screening stone stands this far from a lamp")
LAMP_SIZE = assumed(0.03, 0.02, 0.05, "m", "ground nearer than this to a lamp or an eye is not taken to hide it")
SIGHT_MARGIN = assumed(
    0.05, 0.02, 0.10, "m", "ground hides a lamp when it stands this far over the line of sight: dug, not drawn"
)
AT_DROP = assumed(1.0, 0.5, 1.5, "m", "a lamp this near a lip lights that drop")
