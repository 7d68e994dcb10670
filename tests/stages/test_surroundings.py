"""Roots, services and boundaries: distances by plane geometry."""

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest

from beckwright.compose import Design, design
from beckwright.job.model import Boundary, Job, Service, Tree
from beckwright.stages.surroundings import RootCircle, Surroundings, pit_corners, pit_outline, stem_of


def tree(*stems: float, at: tuple[float, float] = (5.0, 3.0)) -> Tree:
    return Tree(name="T9", species="ash", at=at, stems=stems, protected=True)


def circle_of(job: Job, one: Tree) -> RootCircle:
    return design(replace(job, site=replace(job.site, trees=(one,)))).surroundings.circles[0]


def around(job: Job, service: Service | None = None, boundary: Boundary | None = None) -> Surroundings:
    things = replace(job.site, services=(service,) if service else (), boundaries=(boundary,) if boundary else ())
    return design(replace(job, site=things)).surroundings


@pytest.mark.parametrize(("name", "radius"), [("T1", 7.44), ("T2", 3.36), ("T3", 4.20)])
def test_root_circles_of_the_brief(hazel_design: Design, name: str, radius: float) -> None:
    """Hand calculation of the brief: 12 stems of 620, 280 and 350 mm (BS 5837:2012 4.6.1)."""
    (circle,) = (circle for circle in hazel_design.surroundings.circles if circle.tree.name == name)
    assert circle.radius == pytest.approx(radius, abs=5e-3)


def test_many_stems_stand_for_one() -> None:
    """BS 5837:2012: stems of 200, 250 and 300 mm stand for 438.75 mm; eight of 120 mm for 339.41 mm (the latter from
    memory)."""
    assert stem_of(tree(0.2, 0.25, 0.3)) == pytest.approx(0.43875, rel=1e-4)
    assert stem_of(tree(*[0.12] * 8)) == pytest.approx(0.33941, rel=1e-4)
    assert stem_of(tree(0.5)) == 0.5


def test_root_circle_is_capped(plain: Job) -> None:
    """BS 5837:2012 Annex D: 1400 mm would be 16.8 m; the area need not exceed 707 m2, 15 m."""
    assert circle_of(plain, tree(1.4)).radius == 15.0


def test_distance_and_chord(plain: Job) -> None:
    """Tree 3 m off a straight line, circle of 3.6 m: nearest 3.0 m, chord from 5 - (3.6**2 - 3**2)**0.5 to 5 + it, told
    to the stations inside."""
    circle = circle_of(plain, tree(0.3))
    assert circle.nearest == pytest.approx(3.0, abs=1e-9)
    ((start, end),) = circle.inside
    half = sqrt(3.6**2 - 3.0**2)
    assert 0 <= start - (5 - half) < 0.25
    assert 0 <= (5 + half) - end < 0.25


def test_tree_far_off_is_not_entered(plain: Job) -> None:
    circle = circle_of(plain, tree(0.2))
    assert circle.inside == ()
    assert circle.raised == ()
    assert not circle.pit
    assert not circle.hose


def test_ground_is_raised_where_an_edge_stands_over_it(plain: Job) -> None:
    """The plain job stands 0.1 m over its ground all along; dug in half a metre, nothing is raised."""
    one = circle_of(plain, tree(0.3))
    assert one.raised == one.inside
    dug_in = replace(plain, survey=replace(plain.survey, levels=plain.survey.levels + 0.5))
    assert circle_of(dug_in, tree(0.3)).raised == ()


def test_pit_and_hose_inside_the_circle(plain: Job) -> None:
    """The pit's side lies at x = 11: 2.3 m from a tree at 8.7, inside 2.4 m and outside 2.2 m. So a hose at y = 5."""
    assert circle_of(plain, tree(0.2, at=(8.7, 0.0))).pit
    assert not circle_of(plain, tree(2.2 / 12, at=(8.7, 0.0))).pit
    hosed = replace(plain, route=replace(plain.route, line=((-5.0, 5.0), (15.0, 5.0))))
    assert circle_of(hosed, tree(0.2, at=(5.0, 7.3))).hose
    assert not circle_of(hosed, tree(0.2, at=(5.0, 7.5))).hose


def test_pit_on_plan(plain: Job) -> None:
    """2.0 by 1.5 m round (12, 0); turned a quarter it is 1.5 by 2.0 m; its area is 3 m2 however it is turned."""
    corners = np.array(pit_corners(plain.reservoir))
    assert corners == pytest.approx(np.array([[11, -0.75], [13, -0.75], [13, 0.75], [11, 0.75]]), abs=1e-12)
    turned = replace(plain.reservoir, turned=pi / 2)
    assert pit_outline(turned).bounds == pytest.approx((11.25, -1.0, 12.75, 1.0), abs=1e-12)
    assert pit_outline(replace(plain.reservoir, turned=0.4)).area == pytest.approx(3.0, rel=1e-12)
    assert pit_outline(turned).exterior.is_ccw


def test_anticlockwise_turn(plain: Job) -> None:
    """A turn of 30 degrees anticlockwise takes the far end of the long side north."""
    low, high = pit_corners(replace(plain.reservoir, turned=pi / 6))[:2]
    assert high[1] - low[1] == pytest.approx(2.0 * 0.5, abs=1e-12)


def test_service_beside_bed_pit_and_hose(plain: Job) -> None:
    """A main at y = -2: the bed's half width is 0.3, so 1.7 m; the pit's side lies at -0.75: 1.25 m; hose at 5: 7 m."""
    main = Service(name="main", kind="water", line=((-5.0, -2.0), (20.0, -2.0)), depth=0.75, clearance=0.5, note="")
    hosed = replace(plain, route=replace(plain.route, line=((-5.0, 5.0), (15.0, 5.0))))
    (near,) = around(hosed, service=main).services
    assert (near.course, near.pit, near.hose) == pytest.approx((1.7, 1.25, 7.0), abs=1e-9)
    (undrawn,) = around(plain, service=main).services
    assert undrawn.hose is None


def test_service_that_crosses_the_bed_is_no_distance_away(plain: Job) -> None:
    across = Service(name="drain", kind="drain", line=((5.0, -2.0), (5.0, 2.0)), depth=None, clearance=0.5, note="")
    assert around(plain, service=across).services[0].course == 0


def test_service_known_at_one_point(plain: Job) -> None:
    """3-4-5 from the pit's corner at (13, 0.75)."""
    shaft = Service(name="shaft", kind="drain", line=((16.0, 4.75),), depth=None, clearance=0.5, note="")
    assert around(plain, service=shaft).services[0].pit == pytest.approx(5.0, abs=1e-9)


def test_boundary(plain: Job) -> None:
    fence = Boundary(name="fence", line=((14.0, -5.0), (14.0, 5.0)), clearance=0.6, damp_proof=None)
    (near,) = around(plain, boundary=fence).boundaries
    assert near.pit == pytest.approx(1.0, abs=1e-9)
    assert near.course == pytest.approx(4.0 - 0.3, abs=1e-9)
