"""Supply, lights and sight lines: on flat ground and over a ridge by hand, on the examples by laws."""

from dataclasses import replace
from math import degrees, radians
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright import Design, JobError, design, read_job
from beckwright.base.quantities import FloatArray
from beckwright.figures.electrics import electrics_figures
from beckwright.job.model import ElectricsWork, Job, Light, Pool, Service, Survey, ViewPoint
from beckwright.stages.course import set_out_course
from beckwright.stages.electrics import Electrics, Sight, electrics_items, questions, wire
from beckwright.stages.electrics.sight import sight_of
from beckwright.stages.electrics.strings import string_lights
from beckwright.stages.electrics.surface import Surface, place_lamp
from beckwright.stages.findings.electrics import electrics_findings
from beckwright.stages.ground import build_ground

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def hazel() -> Design:
    return design(read_job(EXAMPLES / "hazel_bank"))


@pytest.fixture(scope="module")
def fennymoor() -> Design:
    return design(read_job(EXAMPLES / "fennymoor_park"))


def work_of(job: Job) -> ElectricsWork:
    assert job.electrics is not None
    return job.electrics


def wired(designed: Design, **changes: Any) -> Electrics:
    job = replace(designed.job, electrics=replace(work_of(designed.job), **changes))
    electrics = wire(job, designed.course, designed.ground, designed.supply)
    assert electrics is not None
    return electrics


def codes(designed: Design, electrics: Electrics | None, job: Job | None = None) -> list[str]:
    return [each.code for each in electrics_findings(job or designed.job, designed.supply, electrics)]


def lamp(**changes: Any) -> Light:
    """On flat ground far from the stream, half a metre up, level, to the north."""
    plain = Light(
        name="lamp",
        power=5.0,
        voltage=12.0,
        at=(12.0, -2.0),
        lip=None,
        across=0.0,
        height=0.5,
        aims=(12.0, -1.0),
        aims_height=0.5,
        beam=radians(40),
        hood=radians(90),
        cable=None,
    )
    return replace(plain, **changes)


def surface(hazel: Design, levels: Any) -> Surface:
    """A grid of ground points 1 m apart under the course of the example; ``levels`` of easting and northing."""
    east, north = (each.ravel() for each in np.meshgrid(np.arange(-4.0, 19.0), np.arange(-4.0, 15.0)))
    points = np.column_stack([east, north])
    survey = Survey(points=points, levels=levels(east, north), codes=("",) * len(points), breaklines=())
    ground, job = build_ground(survey), hazel.job
    course = set_out_course(job.course, job.source, job.layers, ground)
    return Surface(ground=ground, course=course, bank_top=job.earthworks.bank_top)


def look(ground: Surface, light: Light, at: tuple[float, float], eye: float) -> Sight:
    return sight_of(place_lamp(light, ground), ViewPoint(name="eye", at=at, eye=eye, ground=None), ground)


@pytest.fixture(scope="module")
def flat(hazel: Design) -> Surface:
    return surface(hazel, lambda east, north: np.full(len(east), 100.0))


class TestSights:
    @pytest.mark.parametrize(
        ("at", "eye", "off", "seen"),
        [
            ((12.0, 2.0), 0.5, 0.0, "in the beam"),
            ((12.0, 2.0), 4.5, 45.0, "beside it"),
            ((14.0, 0.0), 0.5, 45.0, "beside it"),
            ((12.0 + 4 * np.tan(radians(19)), 2.0), 0.5, 19.0, "in the beam"),
            ((12.0 + 4 * np.tan(radians(21)), 2.0), 0.5, 21.0, "beside it"),
            ((15.0, -2.01), 0.5, 90.2, "turned away"),
            ((12.0, -3.5), 0.5, 180.0, "turned away"),
        ],
    )
    def test_angles_by_hand(self, flat: Surface, at: tuple[float, float], eye: float, off: float, seen: str) -> None:
        sight = look(flat, lamp(), at, eye)
        assert degrees(sight.off) == pytest.approx(off, abs=0.02)
        assert sight.seen == seen

    def test_a_hood_hides_what_lies_beyond_it(self, flat: Surface) -> None:
        assert look(flat, lamp(hood=radians(44)), (14.0, 0.0), 0.5).seen == "turned away"
        assert look(flat, lamp(hood=radians(46)), (14.0, 0.0), 0.5).seen == "beside it"

    def test_turned_by_half_the_beam_and_a_margin(self, flat: Surface) -> None:
        """Looked straight into, half of 40 degrees and 5 more; then it is beside the beam."""
        sight = look(flat, lamp(), (12.0, 2.0), 0.5)
        assert degrees(sight.turn) == pytest.approx(25.0)
        east, north = 12.0 + np.sin(sight.turn), -2.0 + np.cos(sight.turn)
        assert look(flat, lamp(aims=(float(east), float(north))), (12.0, 2.0), 0.5).seen == "beside it"

    def test_a_stone_as_high_as_the_line(self, flat: Surface) -> None:
        """A level line half a metre up wants a stone of 500 mm; one that rises 4 m in 4 m wants 800 mm at 0.3 m."""
        assert look(flat, lamp(), (12.0, 2.0), 0.5).screen == pytest.approx(0.5, abs=1e-9)
        distance = np.hypot(4.0, 4.0)
        assert look(flat, lamp(), (12.0, 2.0), 4.5).screen == pytest.approx(0.5 + 0.3, abs=1e-9)
        assert look(flat, lamp(), (12.0, 2.0), 4.5).distance == pytest.approx(distance)

    @pytest.mark.parametrize(
        ("ridge", "seen"), [(0.40, "in the beam"), (0.52, "in the beam"), (0.70, "hidden by ground")]
    )
    def test_a_ridge_between(self, hazel: Design, ridge: float, seen: str) -> None:
        """Halfway on a line half a metre up: a ridge must stand 50 mm over it before it is trusted to hide the lamp."""
        over = surface(hazel, lambda east, north: 100.0 + ridge * (north == 0.0))
        sight = look(over, lamp(), (12.0, 2.0), 0.5)
        assert sight.seen == seen
        assert sight.clear == pytest.approx(0.5 - ridge, abs=0.05)

    def test_off_the_survey_nothing_hides(self, flat: Surface) -> None:
        """4 m of 8 m lie on the survey, which ends at northing 14."""
        far = ViewPoint(name="eye", at=(12.0, 18.0), eye=0.5, ground=100.0)
        sight = sight_of(place_lamp(lamp(at=(12.0, 10.0), aims=(12.0, 11.0)), flat), far, flat)
        assert sight.seen == "in the beam"
        assert sight.surveyed == pytest.approx(0.5, abs=0.03)

    def test_a_lamp_under_a_lip_is_hidden_from_above(self, hazel: Design) -> None:
        """Its own step stands between it and everybody upstream."""
        ground = Surface(ground=hazel.ground, course=hazel.course, bank_top=0.35)
        light = lamp(at=None, lip="lip 1", height=-0.10, aims=None, aims_height=0.0, hood=radians(180))
        upstream = hazel.course.alignment.at(np.array([2.0]))[0]
        sight = look(ground, light, (float(upstream[0]), float(upstream[1])), 1.2)
        assert sight.clear < -0.05
        assert sight.seen == "hidden by ground"
        placed = place_lamp(light, ground)
        assert placed.level == pytest.approx(101.15 - 0.10)
        assert placed.way[2] < 0

    def test_every_light_of_the_example_is_hidden_from_the_terrace(self, hazel: Design) -> None:
        terrace = [sight for sight in wired(hazel).sights if sight.view.name == "chair on the terrace"]
        assert len(terrace) == 6
        assert {sight.seen for sight in terrace} <= {"turned away", "hidden by ground"}


@pytest.fixture(scope="module")
def pool(hazel: Design) -> tuple[Surface, FloatArray, FloatArray]:
    """Flat ground at the rim of the first pool, places 2 m to either side of its middle, and the middle."""
    stretch = hazel.course.of_kind(Pool)[0]
    rim, middle = stretch.bed_start, np.array([(stretch.start + stretch.end) / 2])
    ground = surface(hazel, lambda east, north: np.full(len(east), rim))
    sides = [ground.course.alignment.beside(middle, np.array([side]))[0] for side in (2.0, -2.0)]
    return ground, np.array(sides), ground.course.alignment.at(middle)[0]


class TestMirror:
    """A lamp and an eye 1 m over a pool's rim, 2 m to either side: still water mirrors at the middle."""

    def _look(self, pool: Any, up: float, aside: float = 0.0) -> str:
        ground, (left, right), at = pool
        light = lamp(
            at=tuple(left), height=1.0, aims=tuple(at), aims_height=0.2 + up, beam=radians(20), hood=radians(90)
        )
        return look(ground, light, (float(right[0]) + aside, float(right[1])), 1.0).mirrored

    def test_flat_on_the_water(self, pool: Any) -> None:
        assert self._look(pool, 0.0) == "pool 1"

    def test_unlike_heights_share_the_way(self, pool: Any) -> None:
        """1 m up and 2 m to one side, 3 m up and 6 m to the other: both lines fall 1 in 2 to the middle."""
        ground, (left, right), at = pool
        light = lamp(at=tuple(left), height=1.0, aims=tuple(at), aims_height=0.2, beam=radians(10), hood=radians(90))
        away = at + 3 * (right - at)
        assert look(ground, light, (float(away[0]), float(away[1])), 3.0).mirrored == "pool 1"
        assert look(ground, light, (float(away[0]), float(away[1])), 0.6).mirrored == ""

    def test_over_the_water(self, pool: Any) -> None:
        assert self._look(pool, 1.5) == ""

    def test_mirrored_past_the_pool(self, pool: Any) -> None:
        """An eye 5 m aside sees the spot 2.5 m aside: bank, not pool."""
        assert self._look(pool, 0.0, aside=5.0) == ""


class TestSurface:
    """Levels square to the middle of the first pool: floor 200 mm under the rim, edges 200 mm over, sides 1 in 0.5."""

    @pytest.mark.parametrize(
        ("out", "over_rim"), [(0.0, -0.2), (0.55, -0.2), (0.65, 0.1), (0.75, 0.2), (1.0, 0.2), (1.2, 0.0), (3.0, 0.0)]
    )
    def test_across_a_pool(self, pool: tuple[Surface, FloatArray, FloatArray], out: float, over_rim: float) -> None:
        """Half of 1.2 m wide; edge 0.1 m farther, bank's top 0.35 m beyond; then the ground, here at the rim."""
        ground, sides, middle = pool
        rim = ground.course.of_kind(Pool)[0].bed_start
        for side in sides:
            at = middle + (side - middle) * out / 2
            assert ground.level_of((float(at[0]), float(at[1]))) - rim == pytest.approx(over_rim, abs=0.02)

    def test_off_the_survey_nobody_knows(self, flat: Surface) -> None:
        assert flat.level(np.array([(40.0, 40.0)]))[0] == -np.inf


class TestStrings:
    def test_even_string_by_hand(self, hazel: Design, flat: Surface) -> None:
        """5 lights of 5 W at 12 V, 4 m of 2.5 mm2 to each: 0.45 V at the last, 0.6 of all at the end."""
        lamps = tuple(place_lamp(lamp(name=f"{n}", at=(12.0, -2.0 + n / 10), cable=4.0), flat) for n in range(5))
        (string,) = string_lights(replace(work_of(hazel.job), light_cable=2.5), lamps, (12.0, -3.0))
        assert sum(span.drop for span in string.spans) == pytest.approx(0.45, rel=1e-9)
        assert string.chosen.drop == pytest.approx(0.45, rel=1e-9)
        assert string.even == pytest.approx(0.6)
        assert string.centre / string.length == pytest.approx(0.6)
        assert string.spans[-1].lost == pytest.approx(0.45 / 12)
        assert string.transformer.rating == pytest.approx(34.72, abs=5e-3)
        assert string.transformer.taken in (50.0, 60.0)

    def test_span_from_its_straight_line(self, hazel: Design) -> None:
        """Transformer (-3.5, 6.0), lamp (6.20, 12.45): 11.65 m, a tenth more, and half a metre."""
        (string,) = wired(hazel).strings
        assert string.spans[0].length == pytest.approx(np.hypot(9.7, 6.45) * 1.1 + 0.5)

    def test_a_string_for_each_voltage(self, hazel: Design) -> None:
        lights = work_of(hazel.job).lights
        mixed = (*lights[:2], *(replace(light, voltage=24.0) for light in lights[2:]))
        strings = wired(hazel, lights=mixed).strings
        assert [string.voltage for string in strings] == [12.0, 24.0]
        assert [len(string.lamps) for string in strings] == [2, 4]

    def test_twice_the_voltage_quarters_the_share(self, hazel: Design) -> None:
        lights = work_of(hazel.job).lights
        once, twice = (
            wired(hazel, lights=tuple(replace(light, voltage=volts) for light in lights)).strings[0].chosen.share
            for volts in (12.0, 24.0)
        )
        assert twice == pytest.approx(once / 4, rel=1e-9)

    def test_what_is_lost_grows_along_the_string(self, hazel: Design) -> None:
        (string,) = wired(hazel).strings
        lost = [span.lost for span in string.spans]
        assert lost == sorted(lost)
        assert lost[-1] == pytest.approx(string.chosen.share, rel=1e-9)
        assert string.spans[0].current == pytest.approx(string.power / 12)


class TestFeeder:
    def test_by_hand(self, hazel: Design) -> None:
        """242 W and 18 / 0.85 W at 0.9 and 230 V: 1.2714 A; 10.8 m, 5 % more and 3 m; 19 mV/A/m: 0.346 V."""
        feeder = wired(hazel).feeder
        assert feeder.current == pytest.approx((242 + 18 / 0.85) / (230 * 0.9), rel=1e-6)
        assert feeder.length == pytest.approx(10.8 * 1.05 + 3)
        assert feeder.chosen.drop == pytest.approx(0.3464, abs=5e-5)

    def test_lights_bring_the_lighting_limit(self, hazel: Design) -> None:
        assert wired(hazel).feeder.limit == 0.03
        assert wired(hazel, lights=(), views=()).feeder.limit == 0.05

    @given(st.floats(1, 300), st.floats(1.01, 3))
    def test_longer_loses_more(self, hazel: Design, length: float, times: float) -> None:
        near, far = (wired(hazel, length=each, lights=(), views=()).feeder for each in (length, length * times))
        assert far.chosen.drop > near.chosen.drop
        assert far.chosen.drop / near.chosen.drop == pytest.approx((length * times + 3) / (length + 3))

    def test_three_phases_are_sums_of_one_pump(self, fennymoor: Design) -> None:
        """3480 W of two pumps: 1740 W each, 8.406 A; 88 m of 2.5 mm2 lose 14.05 V, 6.1 %; 4 mm2 keeps 5 %."""
        feeder = wired(fennymoor).feeder
        assert feeder.each == 2
        assert feeder.largest.power == pytest.approx(1740)
        assert feeder.chosen.drop == pytest.approx(14.05, abs=5e-3)
        assert not feeder.chosen.within
        assert feeder.smallest == 4.0
        both = wired(fennymoor, phases=1).feeder
        assert both.current == pytest.approx(2 * feeder.current)

    def test_smallest_size_keeps_the_rate(self, fennymoor: Design) -> None:
        feeder = wired(fennymoor).feeder
        assert {row.size for row in feeder.sizes if row.within} == {
            row.size for row in feeder.sizes if row.rate <= feeder.rate_most
        }


class TestRoute:
    def test_distances_to_water(self, hazel: Design) -> None:
        """The pit's side lies at northing -0.2 + 0.8: 0.6 m from (-3.5, 1.2), which stands square to it."""
        route = wired(hazel).route
        assert route.connection_water == pytest.approx(0.6, abs=1e-9)
        assert route.transformer_water == pytest.approx(5.4, abs=1e-9)

    def test_services_crossed(self, hazel: Design) -> None:
        """A pipe 750 mm down across a cable at 600 mm: 150 mm between, 2.0 m from the board."""
        pipe = Service(name="pipe", kind="water", line=((-5.0, 10.0), (0.0, 10.0)), depth=0.75, clearance=0.5, note="")
        job = replace(hazel.job, site=replace(hazel.job.site, services=(pipe,)))
        electrics = wire(job, hazel.course, hazel.ground, hazel.supply)
        assert electrics is not None
        (crossed,) = electrics.route.services
        assert crossed.along == pytest.approx(2.0)
        assert crossed.left == pytest.approx(0.15)
        assert "cable-crosses-service" in codes(hazel, electrics, job)

    def test_roots_by_hand(self, hazel: Design) -> None:
        """A straight line through the middle of the oak's circle, 12 x 0.62 m: its whole diameter."""
        electrics = wired(hazel, line=((5.6, 25.0), (5.6, 0.0)), lights=(), views=())
        oak = next(root for root in electrics.route.roots if root.tree == "T1")
        assert oak.length == pytest.approx(2 * 12 * 0.62, rel=1e-9)

    def test_zones_stand_off_by_their_widths(self, hazel: Design) -> None:
        import shapely

        zones = wired(hazel).zones
        water = shapely.union_all([shapely.Polygon(ring) for ring in zones.water])
        for rings, away in ((zones.first, 2.0), (zones.second, 3.5)):
            for ring in rings:
                gaps = shapely.distance(water, shapely.points(ring))
                assert gaps == pytest.approx(away, abs=0.02)


class TestFindings:
    def test_nothing_told(self, hazel: Design) -> None:
        job = replace(hazel.job, electrics=None)
        assert wire(job, hazel.course, hazel.ground, hazel.supply) is None
        assert codes(hazel, None, job) == ["electrics-not-told"]
        assert electrics_items(None, None) == ()
        assert list(electrics_figures(job, None)) == []

    def test_the_example(self, hazel: Design) -> None:
        assert codes(hazel, wired(hazel)) == [
            "electrics-advisory",
            "box-near-water",
            "cable-among-roots",
            "lamp-seen",
            "lamps-at-drops",
        ]

    def test_none_fails(self, hazel: Design, fennymoor: Design) -> None:
        for each in (hazel, fennymoor):
            found = list(electrics_findings(each.job, each.supply, wired(each)))
            assert {finding.severity.name for finding in found} <= {"NOTE", "CAUTION"}

    def test_thin_cable_and_its_cure(self, fennymoor: Design) -> None:
        found = next(
            each
            for each in electrics_findings(fennymoor.job, fennymoor.supply, wired(fennymoor))
            if each.code == "supply-drop"
        )
        assert "4 mm²" in found.cure
        assert "supply-drop" not in codes(fennymoor, wired(fennymoor, cable=4.0))

    def test_dim_lights(self, hazel: Design) -> None:
        assert "lights-dim" in codes(hazel, wired(hazel, light_cable=1.5))
        assert "lights-dim" not in codes(hazel, wired(hazel, light_cable=2.5))

    def test_a_lamp_turned_to_the_terrace(self, hazel: Design) -> None:
        first, *others = work_of(hazel.job).lights
        turned = replace(first, at=(9.0, 11.5), aims=(13.0, 12.5), aims_height=1.2)
        electrics = wired(hazel, lights=(turned, *others))
        found = [each for each in electrics_findings(hazel.job, hazel.supply, electrics) if each.code == "lamp-dazzles"]
        assert found[0].place == "Chair on the terrace sees oak north"
        assert "turn it" in found[0].cure.lower()

    def test_a_lamp_seen_from_beside_wants_a_hood_or_a_stone(self, hazel: Design, flat: Surface) -> None:
        """45 degrees off a beam of 40: cut off 5 short of it; a level line half a metre up: a stone of 500 mm."""
        electrics = replace(wired(hazel), sights=(look(flat, lamp(), (14.0, 0.0), 0.5),))
        found = {each.code: each for each in electrics_findings(hazel.job, hazel.supply, electrics)}
        assert (
            found["lamp-seen"].cure
            == "Fit a hood that cuts off at 40°, or set a stone 500 mm high 300 mm in front of it."
        )

    def test_a_hood_never_cuts_into_the_beam(self, hazel: Design, flat: Surface) -> None:
        """22 degrees off a beam of 40: a hood 5 short of it would cut the beam."""
        seen = look(flat, lamp(), (12.0 + 4 * np.tan(radians(22)), 2.0), 0.5)
        found = {
            each.code: each
            for each in electrics_findings(hazel.job, hazel.supply, replace(wired(hazel), sights=(seen,)))
        }
        assert found["lamp-seen"].cure.startswith("Set a stone")

    def test_transformers_on_offer(self, hazel: Design) -> None:
        assert "transformer-too-small" in codes(hazel, wired(hazel, transformers=(20.0,)))
        assert wired(hazel, transformers=(20.0, 30.0)).strings[0].transformer.taken == 30.0

    def test_boxes_far_off(self, hazel: Design) -> None:
        assert "box-near-water" not in codes(hazel, wired(hazel, connection=(-3.5, 2.7)))
        assert "box-near-water" in codes(hazel, wired(hazel, connection=(-3.5, 2.7), transformer=(-3.5, 3.0)))


@pytest.mark.parametrize("name", ["hazel_bank", "larkspur_court", "fennymoor_park"])
def test_figures_work_out(name: str) -> None:
    designed = design(read_job(EXAMPLES / name))
    figures = list(electrics_figures(designed.job, wired(designed)))
    assert len({figure.name for figure in figures}) == len(figures)
    for figure in figures:
        assert figure.low <= figure.amount <= figure.high, figure.name
        if figure.equation is not None:
            inputs = {each.name: each.amount for each in figure.inputs}
            assert figure.equation(**inputs) == pytest.approx(figure.amount, rel=1e-9, abs=1e-12), figure.name


def test_a_long_run_has_its_working(fennymoor: Design) -> None:
    job = replace(fennymoor.job, electrics=replace(work_of(fennymoor.job), length=157.0))
    figures = {each.name: each for each in electrics_figures(job, wired(fennymoor, length=157.0))}
    limit = figures["electrics.supply.limit"]
    assert limit.amount == pytest.approx(0.053)
    assert limit.equation is not None


class TestItems:
    def test_what_lies_there_is_not_bought(self, hazel: Design) -> None:
        keys = [item.key for item in electrics_items(work_of(hazel.job), wired(hazel))]
        assert keys == [
            "electrics.lights.12_V.transformer",
            "electrics.lights.12_V.cable",
            "electrics.lights.12_V.lamp_3_W",
        ]

    def test_amounts(self, hazel: Design) -> None:
        work = replace(work_of(hazel.job), laid=False)
        electrics = wired(hazel, laid=False)
        items = {item.key: item for item in electrics_items(work, electrics)}
        assert items["electrics.supply.cable"].amount == pytest.approx(14.34)
        assert items["electrics.supply.duct"].amount == pytest.approx(11.34)
        assert items["electrics.lights.12_V.lamp_3_W"].amount == 6
        assert all(item.low <= item.amount <= item.high for item in items.values())
        assert {item.supplier for item in items.values()} == {"electrician"}


def test_protective_devices_are_questions_only(hazel: Design) -> None:
    asked = questions(work_of(hazel.job), wired(hazel))
    assert all("?" in each for each in asked)
    assert any("residual-current" in each for each in asked)
    for finding in electrics_findings(hazel.job, hazel.supply, wired(hazel)):
        assert "residual" not in str(finding)


class TestFaults:
    @pytest.mark.parametrize(
        ("old", "new", "said"),
        [
            ("cable_mm2 = 2.5\ncover", "cable_mm2 = 2.4\ncover", "electrics.cable_mm2"),
            ('lip = "lip 1"\nacross_mm = 200', 'lip = "lip 7"\nacross_mm = 200', "lip 7"),
            ('name = "oak south"', 'name = "oak north"', "oak north"),
            ("ground_level_m = 101.9\n", "", "outside the survey"),
            ("x_m = 6.20\n", "", "no place"),
            ("x_m = 6.55\n", 'x_m = 6.55\nlip = "lip 1"\n', "two places"),
            ("line_m = [[-3.5, 12.0], [-3.5, 1.2]]   #", "#", "length_m"),
            ("x_m = 6.55\ny_m = 10.65", "x_m = 60.55\ny_m = 10.65", "outside the survey"),
        ],
    )
    def test_told(self, tmp_path: Path, old: str, new: str, said: str) -> None:
        text = (EXAMPLES / "hazel_bank" / "job.toml").read_text(encoding="utf-8")
        assert old in text
        for file in (EXAMPLES / "hazel_bank").glob("*.csv"):
            (tmp_path / file.name).write_bytes(file.read_bytes())
        (tmp_path / "job.toml").write_text(text.replace(old, new, 1), encoding="utf-8")
        with pytest.raises(JobError) as caught:
            read_job(tmp_path)
        assert said in str(caught.value)

    def test_lights_without_a_supply(self, tmp_path: Path) -> None:
        text = (EXAMPLES / "hazel_bank" / "job.toml").read_text(encoding="utf-8")
        start, end = text.index("[electrics]"), text.index("[[lights]]")
        for file in (EXAMPLES / "hazel_bank").glob("*.csv"):
            (tmp_path / file.name).write_bytes(file.read_bytes())
        (tmp_path / "job.toml").write_text(text[:start] + text[end:], encoding="utf-8")
        with pytest.raises(JobError, match=r"no \[electrics\]"):
            read_job(tmp_path)
