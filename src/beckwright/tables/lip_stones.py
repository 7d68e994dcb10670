"""How a lip stone is cut and set, as the trade does it: no publication was found."""

from beckwright.base.tabled import assumed, habit

PROJECTS = habit(0.040, 0.025, 0.050, "m", "from memory: nose of a lip stone over the face below it")
GROOVE = assumed(0.010, 0.008, 0.012, "m", "drip groove, as wide as deep")
GROOVE_BACK = assumed(0.020, 0.015, 0.025, "m", "drip groove under a lip stone, back from its edge")
GROOVED_FROM = assumed(0.040, 0.030, 0.050, "m", "a thinner plate is not grooved: it drips from its own edge")
