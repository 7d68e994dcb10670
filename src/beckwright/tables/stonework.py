"""Stone as it is ordered and set: shapes, gaps, sizes nobody told, deliveries, joints, and rules of thumb."""

from beckwright.base.tabled import Tabled, assumed, habit

SHAPE = habit(0.60, 0.55, 0.65, "1", "angular quarried stone over its box; 0.52 rounded, 0.8 to 0.9 sawn")
SAWN = habit(0.85, 0.80, 0.95, "1", "slab over its box, riven or sawn")
MIDDLE_AXIS = assumed(0.75, 0.6, 0.9, "1", "middle over longest size of a boulder: 0.45 over 0.60 m")
SHORT_AXIS = assumed(0.60, 0.4, 0.7, "1", "shortest over longest size of a boulder that lies on its flat side")
EDGE_VOIDS = habit(0.25, 0.15, 0.35, "1", "gaps between irregular stones stacked in a course")
LARGEST_SHARE = habit(
    0.25, 0.15, 0.35, "1", "share of the mass in the largest third of sizes: mixed 1 to 2 to 1 by size"
)
WASTE = habit(0.10, 0.05, 0.15, "1", "stone lost, broken or of the wrong shape")

LIP_BEARING = assumed(0.15, 0.10, 0.25, "m", "a lip stone reaches this far under the cheeks on each side")
LIP_DEPTH = assumed(0.40, 0.30, 0.60, "m", "lip stone along the stream, most of it held down upstream of the brink")
LIP_THICKNESS = assumed(0.08, 0.05, 0.15, "m", "riven slab as a lip")

BASE_OVER = habit(50.0, 50.0, 50.0, "kg", "a stone over this gets a base of its own")
BASE_DEPTH = assumed(0.10, 0.075, 0.15, "m", "lean mix or rammed stone under a heavy stone, over fleece")

BULK_BAG = habit(750.0, 600.0, 850.0, "kg", "one bulk bag of gravel or pebbles")

JOINT_FILLS: dict[str, Tabled] = {
    "foam": habit(3.0, 2.0, 4.0, "m", "hidden joint that one can of 750 ml fills; half of what makers tell is lost"),
    "mortar": assumed(5.0, 3.0, 8.0, "m", "joint of about 60 by 40 mm that one bag of 25 kg fills"),
}
"""Joint that one container fills."""

RULES: dict[str, Tabled] = {
    "rock-lined trench": habit(370.0, 370.0, 370.0, "kg/m", "0.22 t of boulders and 0.15 t of gravel a metre"),
    "naturalistic stream": habit(2600.0, 2200.0, 3000.0, "kg/m", "15 t for 6 m; 90 t for 27 m and a pond"),
    "small stones alone": habit(100.0, 100.0, 100.0, "kg/m", "cobbles and pebbles for 16 m, edge rock beside it"),
}
"""Stone for each metre of stream, as rules of thumb tell it: the first two differ by a factor of eight."""

MORE_THAN_GUESSED = assumed(0.25, 0.2, 0.3, "1", "edge stone told and worked out this far apart: one of them is wrong")
