"""Beds: how rough, how sieved stone is read as grain sizes, and when water hides."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled

SMOOTH_N = Tabled(
    amount=0.015,
    low=0.013,
    high=0.017,
    unit="s/m^(1/3)",
    grade=Grade.PUBLISHED,
    source="chow-1959",
    place="table 5-6, dressed ashlar: dressed stone in mortar (recalled)",
)

MANNING_GIVEN = Tabled(
    amount=1.0,
    low=0.82,
    high=1.22,
    unit="1",
    grade=Grade.ASSUMED,
    source="",
    place="times the roughness a person insists on: measured friction scatters by about 1.5 in f, which is 1.22 in n",
)

VPE_HIGH = Tabled(
    amount=1.25,
    low=1.0,
    high=1.25,
    unit="1",
    grade=Grade.ASSUMED,
    source="",
    place="times the depth of the variable power equation: it was 1.35 too deep on a flat flume bed, and natural "
    "stepped beds are far rougher than any grain law",
)

SIZE_10 = Tabled(
    amount=0.0,
    low=0.0,
    high=0.0,
    unit="1",
    grade=Grade.PRACTICE,
    source="",
    place="stone sold as a to b: a 10 % pass, so D10 = a (b/a)**0",
)

SIZE_50 = Tabled(
    amount=0.5,
    low=0.5,
    high=0.5,
    unit="1",
    grade=Grade.PRACTICE,
    source="",
    place="stone sold as a to b, even on a log scale from 10 to 90 % passing: D50 = a (b/a)**0.5",
)

SIZE_84_50 = Tabled(
    amount=0.425,
    low=0.425,
    high=0.425,
    unit="1",
    grade=Grade.PRACTICE,
    source="",
    place="stone sold as a to b, even on a log scale from 10 to 90 % passing: D84 = D50 (b/a)**((84 - 50) / 80)",
)

SHEET_BREAKS = Tabled(
    amount=0.2,
    low=0.1,
    high=0.2,
    unit="1",
    grade=Grade.ASSUMED,
    source="",
    place="water depth over D84 below which water threads between the stones; 0.1 is as far as the equation was fitted",
)

VISIBLE_SHARE_WANTED = Tabled(
    amount=0.7,
    low=0.7,
    high=1.0,
    unit="1",
    grade=Grade.ASSUMED,
    source="",
    place="share of the flow over the stones below which the bed is said to swallow the stream",
)

RETAINED = Tabled(
    amount=0.05,
    low=0.04,
    high=0.06,
    unit="1",
    grade=Grade.ASSUMED,
    source="",
    place="water that clings in a drained layer, as a share of the layer's volume; moves restart by 5 to 15 %",
)
