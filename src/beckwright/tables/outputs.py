"""What people and machines get done in an hour, and how long things wait: guesses of the trade, for want of a log.

Every output is for the crew named with it. A firm's own log of hours beats all of them.
"""

from beckwright.base.tabled import Tabled, assumed, habit

DIGGING: dict[str, Tabled] = {
    "by hand": habit(0.42, 0.19, 0.83, "m3/h", "one person, pits to 2 m to light soil; 2.4 h a m3 in the middle"),
    "1.5 t": habit(2.5, 1.5, 3.2, "m3/h", "digger of 1.5 t, bank measure, in tight places"),
    "3 t": habit(5.0, 3.0, 6.5, "m3/h", "digger of 3 t, bank measure, in tight places"),
    "8 t": habit(10.0, 6.0, 15.0, "m3/h", "digger of 5 to 8 t, bank measure"),
}
RAMMING = habit(1.0, 0.6, 1.4, "m3/h", "one person filling and ramming in layers")
TRENCHING = habit(6.0, 4.0, 8.0, "m/h", "two people, trench by hand and hose laid")
LINING = habit(17.0, 10.0, 25.0, "m2/h", "two people laying lining")
FLEECE = habit(40.0, 30.0, 50.0, "m2/h", "two people laying fleece")
CRATES = habit(4.0, 3.0, 5.0, "m3/h", "two people laying crates")
STONE: dict[str, Tabled] = {
    "by hand": habit(150.0, 100.0, 200.0, "kg/h", "two people setting stone by hand"),
    "by machine": habit(750.0, 500.0, 1000.0, "kg/h", "a machine and two people setting stone"),
}
PEBBLES = habit(1000.0, 600.0, 1500.0, "kg/h", "two people with barrows of 65 litres")
LIPS = assumed(2.0, 1.0, 3.0, "1/day", "lips bedded, levelled and pointed by two people")
PLANTS = assumed(20.0, 12.0, 30.0, "1/h", "pots planted by one person")
PEGS = assumed(8.0, 4.0, 12.0, "1/h", "pegs set and levelled by two people")

MADE_READY = assumed(1.0, 0.5, 2.0, "day", "trees fenced, boards laid, services traced and opened by hand")
RESERVOIR_TEST = habit(1.0, 1.0, 2.0, "day", "reservoir filled and watched for a day before it is covered")
BED_TEST = assumed(0.5, 0.3, 1.0, "day", "hose run down the bare lining, wet line chalked")
CURING = habit(3.0, 2.0, 7.0, "day", "mortar of the lips sets before water runs over it")
CONNECTED = assumed(1.0, 0.5, 2.0, "day", "electrician: supply, pump and lights connected and tested")
FITTED = assumed(0.75, 0.5, 1.5, "day", "chamber, pump, hose tails and outlet box fitted")
RUNNING_TEST = habit(0.5, 0.3, 1.0, "day", "an hour at full, every stone looked behind, stones moved")
SETTLING = habit(14.0, 10.0, 30.0, "day", "left to settle before edges are trimmed and joints filled")
TRIMMED = assumed(1.0, 0.5, 2.0, "day", "edges levelled again and trimmed, joints filled")
TIGHTNESS_TEST = habit(1.0, 1.0, 2.0, "day", "watertight test, off over night and on for a day")
HANDED_OVER = assumed(0.5, 0.3, 0.5, "day", "walk with the owner")

LOST_TO_WEATHER = assumed(0.15, 0.15, 0.30, "1", "share of working days on which ground work stands still")
