"""Stone by hand arithmetic, lifts at their limits, and what must hold for any job: more courses, more tonnes."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.base.findings import Finding, Severity
from beckwright.base.items import Item
from beckwright.compose import design
from beckwright.figures.stonework import stonework_figures
from beckwright.job.model import BedMakeUp, Job, Pool, Run, Step
from beckwright.job.read import read_job
from beckwright.stages.findings.stonework import stonework_findings
from beckwright.stages.stonework import Stonework, take_off_stone
from beckwright.stages.stonework.items import stonework_items
from tests.stages.conftest import EXAMPLES

NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
few = settings(max_examples=15)


def stone(job: Job) -> Stonework:
    made = design(job)
    return take_off_stone(job, made.course, made.stability, made.falls)


def setting(job: Job, **changes: object) -> Job:
    return replace(job, stonework=replace(job.stonework, **changes))


def found(job: Job, code: str) -> list[Finding]:
    return [finding for finding in stonework_findings(job, stone(job)) if finding.code == code]


def the(job: Job, code: str) -> Finding:
    (finding,) = found(job, code)
    return finding


def item(job: Job, key: str) -> Item:
    (one,) = [each for each in stonework_items(job, stone(job)) if each.key == key]
    return one


@pytest.fixture
def sparse(plain: Job, pebbles: BedMakeUp) -> Job:
    """10 m of stream with one step: 6 m of pebbles, a drop of 0.2 m, a pool of 1.0 by 0.8 m, 3 m of pebbles.

    Edge stone of 200 kg a metre, 0.3 to 0.6 m; stone of 2600 kg/m3; one course of 0.3 by 0.35 m with a quarter gaps.
    """
    reaches = (
        Run(name="run 1", length=6.0, fall=0.3, width=0.6, bed=pebbles, sills=(3.0,)),
        Step(name="lip 1", drop=0.2, lip_width=0.6, lip="flat slab"),
        Pool(name="pool 1", length=1.0, width=0.8, depth=0.2),
        Run(name="run 2", length=3.0, fall=0.15, width=0.6, bed=pebbles, sills=()),
    )
    job = replace(plain, course=replace(plain.course, reaches=reaches))
    job = replace(job, materials=replace(job.materials, stone=2600.0, edge_stone_per_bank=200.0))
    return setting(
        job,
        courses=1,
        height=0.3,
        depth=0.35,
        voids=0.25,
        shape=0.6,
        lip=(0.15, 0.4, 0.08),
        cheek=(0.6, 0.45, 0.4),
        pools_bed=None,
        waste=0.1,
        lorry=8000.0,
        bag=750.0,
        joint="foam",
        joint_fills=3.0,
        chart=(),
        gear=0.0,
    )


class TestEdge:
    def test_both_ways(self, sparse: Job) -> None:
        """Hand calculation: 20 m at 200 kg; 0.3 x 0.35 x 0.75 x 2600 = 204.75 kg a metre."""
        edge = stone(sparse).edge
        assert edge.told == pytest.approx(4000, rel=1e-9)
        assert edge.worked == pytest.approx(20 * 204.75, rel=1e-9)
        assert edge.order.likely == edge.told

    def test_the_band_is_what_lies_between(self, sparse: Job) -> None:
        """Hand calculation: gaps of 35 and 15 % make 177.45 and 232.05 kg a metre."""
        order = stone(sparse).edge.order
        assert (order.low, order.high) == pytest.approx((20 * 177.45, 20 * 232.05), rel=1e-9)
        assert len(order.reasons) == 2

    def test_told_beyond_the_courses_is_an_end(self, sparse: Job) -> None:
        job = replace(sparse, materials=replace(sparse.materials, edge_stone_per_bank=400.0))
        order = stone(job).edge.order
        assert (order.low, order.high) == pytest.approx((20 * 177.45, 20 * 400.0), rel=1e-9)

    def test_nobody_told(self, sparse: Job) -> None:
        job = replace(sparse, materials=replace(sparse.materials, edge_stone_per_bank=0.0))
        edge = stone(job).edge
        assert edge.told is None
        assert edge.order.likely == edge.worked

    def test_no_edge_stone_at_all(self, sparse: Job) -> None:
        job = replace(
            setting(sparse, courses=0, cheek=None), materials=replace(sparse.materials, edge_stone_per_bank=0.0)
        )
        taken = stone(job)
        assert taken.edge.order.high == 0
        assert taken.cheeks == 0
        assert not {each.key for each in stonework_items(job, taken)} & {"stone.edge", "stone.cheek"}

    @few
    @given(courses=st.integers(1, 5))
    def test_twice_the_courses_twice_the_stone(self, hazel: Job, courses: int) -> None:
        one, two = (stone(setting(hazel, courses=n)).edge.worked for n in (courses, 2 * courses))
        assert one is not None
        assert two == pytest.approx(2 * one, rel=1e-12)


class TestBeds:
    def test_along_the_slope(self, sparse: Job) -> None:
        """Hand calculation: (6.0075 + 3.0037) x 0.6 m2, 0.1 m deep, 0.6 of it stone, a tenth over."""
        (bed,) = stone(sparse).beds
        area = (math.hypot(6, 0.3) + math.hypot(3, 0.15)) * 0.6
        assert bed.runs == pytest.approx(area, rel=1e-9)
        assert bed.pools == 0
        assert bed.drawn == pytest.approx(area * 0.1 * 0.6 * 2600, rel=1e-9)
        assert bed.order.likely == pytest.approx(1.1 * bed.drawn, rel=1e-9)

    def test_ends(self, sparse: Job) -> None:
        """Hand calculation: voids of 45 % and nothing lost; 35 %, 10 of 100 mm deeper and 15 % lost."""
        job = replace(sparse, tolerances=replace(sparse.tolerances, stone=0.01))
        (bed,) = stone(job).beds
        assert bed.order.low == pytest.approx(bed.drawn * 0.55 / 0.6, rel=1e-9)
        assert bed.order.high == pytest.approx(bed.drawn * 0.65 / 0.6 * 1.1 * 1.15, rel=1e-9)

    def test_floors_of_pools(self, sparse: Job) -> None:
        """Hand calculation: a floor of 0.6 m, then 0.4 m rising 0.2 m: (0.6 + 0.4472) x 0.8 = 0.8378 m2."""
        job = setting(sparse, pools_bed="pebbles")
        (bed,) = stone(job).beds
        assert bed.pools == pytest.approx((0.6 + math.hypot(0.4, 0.2)) * 0.8, rel=1e-6)
        assert "100 mm" in the(job, "pool-floors-covered").says
        assert not found(sparse, "pool-floors-covered")


class TestLips:
    def test_slab(self, sparse: Job) -> None:
        """Hand calculation: 0.9 x 0.4 x 0.08 m, 0.85 of it stone: 63.65 kg."""
        (lip,) = stone(sparse).lips
        assert lip.size == pytest.approx((0.9, 0.4, 0.08))
        assert lip.mass == pytest.approx(0.85 * 0.9 * 0.4 * 0.08 * 2600, rel=1e-9)
        assert item(sparse, "stone.lip").amount == 1
        assert item(sparse, "stone.lip_mass").amount == pytest.approx(lip.mass)

    def test_boulders_fill_less_of_their_box(self, sparse: Job) -> None:
        first, _, *rest = sparse.course.reaches
        step = Step(name="lip 1", drop=0.2, lip_width=0.6, lip="boulders")
        job = replace(sparse, course=replace(sparse.course, reaches=(first, step, *rest)))
        assert stone(job).lips[0].mass == pytest.approx(0.6 / 0.85 * stone(sparse).lips[0].mass, rel=1e-9)

    def test_cheeks(self, sparse: Job) -> None:
        """Hand calculation: 0.6 of 0.6 x 0.45 x 0.4 m, two, a tenth over: 2 x 168.48 x 1.1 kg."""
        taken = stone(sparse)
        assert taken.cheeks == 2
        assert taken.cheek_mass == pytest.approx(168.48, rel=1e-9)
        assert taken.cheek_order.likely == pytest.approx(2 * 168.48 * 1.1, rel=1e-9)

    def test_joints(self, sparse: Job) -> None:
        """Hand calculation: 0.9 m behind, 2 x (0.08 + 0.2) m beside, 0.6 m of sill: 2.06 m, one can of 2 to 4 m."""
        joints = stone(sparse).joints
        assert (joints.lips, joints.sills) == pytest.approx((1.46, 0.6))
        assert [(each.name, each.at) for each in joints.at_lips] == [("lip 1", (6.0,))]
        assert [(each.name, each.at) for each in joints.at_sills] == [("run 1", (3.0,))]
        assert joints.containers == (1, 1, 2)
        assert "lining seals" in the(sparse, "foam-steers").says
        assert not found(setting(sparse, joint="mortar", joint_fills=5.0), "foam-steers")

    def test_bases(self, sparse: Job) -> None:
        """Hand calculation: the lip 0.9 x 0.4 and two cheeks 0.6 x 0.45 m are over 50 kg, 0.1 m deep: 0.09 m3."""
        taken = stone(setting(sparse, cheek=(0.6, 0.45, 0.4)))
        heavy = [each for each in taken.fixed if each.each[1] > 50]
        assert not heavy
        assert taken.bases.count == 3
        assert taken.bases.volume == pytest.approx(0.09, rel=1e-9)


class TestFixed:
    def test_one_layer_where_the_fall_lands(self, hazel: Job) -> None:
        """Its own numbers by hand: the landing's length, at the least one stone, over the pool's width."""
        taken, made = stone(hazel), design(hazel)
        assert [each.place for each in taken.fixed] == [fix.place for fix in made.stability.fixes]
        for each, fix in zip(taken.fixed, made.stability.fixes, strict=True):
            assert each.area == pytest.approx(1.2 * max(fix.span[1] - fix.span[0], fix.wanted[1]))
            assert each.order.likely == pytest.approx(each.area * fix.wanted[1] * 0.75 * 2600)
            assert each.order.low == 0
            assert each.count == math.ceil(each.area / fix.wanted[1] ** 2)

    def test_a_run_that_is_washed_is_covered_whole(self, sparse: Job, pebbles: BedMakeUp) -> None:
        fine = replace(pebbles, size=(0.004, 0.01))
        steep = Run(name="run 1", length=6.0, fall=1.2, width=0.6, bed=fine, sills=())
        job = replace(sparse, course=replace(sparse.course, reaches=(steep, *sparse.course.reaches[1:])))
        (run,) = [each for each in stone(job).fixed if each.place == "run 1"]
        assert run.area == pytest.approx(math.hypot(6.0, 1.2) * 0.6)


class TestLifts:
    """A cheek of 168.48 kg; the machine 1.0 m wide, 0.5 m back from a bank 0.3 m wide on top, edge of the pool 0.4 m
    out: 1.7 m."""

    @pytest.fixture
    def dug(self, sparse: Job) -> Job:
        return replace(
            sparse,
            earthworks=replace(sparse.earthworks, digger_width=1.0, digger_reach=3.0, bank_top=0.3),
            force=replace(sparse.force, people=2),
        )

    def test_reach(self, dug: Job) -> None:
        """Hand calculation: 0.5 + 0.5 + 0.3 + 0.4 m to the middle, 1.3 m to the edge."""
        reach = {lift.what: lift.reach for lift in stone(dug).lifts}
        assert reach["lip 1"] == pytest.approx(1.7)
        assert reach["largest edge stones"] == pytest.approx(1.3)

    def test_without_a_chart_nobody_can_tell(self, dug: Job) -> None:
        assert the(dug, "stone-lift-untold").severity is Severity.CAUTION
        assert "at 1.70 m" in the(dug, "stone-lift-untold").cure

    def test_straight_between_rows(self, dug: Job) -> None:
        """Hand calculation: 300 kg at 1.5 m, 100 kg at 2.5 m: 260 kg at 1.7 m, less 50 kg of gear."""
        job = setting(dug, chart=((1.5, 300.0), (2.5, 100.0)), gear=50.0)
        (cheeks,) = [lift for lift in stone(job).lifts if lift.what == "cheeks of lip 1"]
        assert cheeks.machine == pytest.approx(210.0)
        assert cheeks.by == "the machine"
        assert the(job, "stone-by-machine").severity is Severity.NOTE

    def test_a_tipping_chart_is_cut(self, dug: Job) -> None:
        job = setting(dug, chart=((1.0, 400.0), (3.0, 400.0)), chart_of="tipping")
        assert stone(job).lifts[0].machine == pytest.approx(300.0)

    @pytest.mark.parametrize(
        ("chart", "reach"),
        [(((1.0, 500.0), (1.5, 400.0)), 3.0), (((1.0, 500.0), (3.0, 400.0)), 1.5)],
        ids=["beyond the chart", "beyond the bucket"],
    )
    def test_nothing_out_of_reach(self, dug: Job, chart: tuple[tuple[float, float], ...], reach: float) -> None:
        job = setting(dug, chart=chart)
        job = replace(job, earthworks=replace(job.earthworks, digger_reach=reach))
        (cheeks,) = [lift for lift in stone(job).lifts if lift.what == "cheeks of lip 1"]
        assert cheeks.machine == 0.0
        assert cheeks.by == "nothing told"

    def test_too_heavy(self, dug: Job) -> None:
        finding = the(setting(dug, chart=((1.0, 200.0), (2.0, 100.0))), "stone-too-heavy")
        assert finding.severity is Severity.FAIL
        assert "lifts 130 kg there" in finding.says
        assert "168 kg at 1.70 m" in finding.cure
        assert "slings" in finding.cure

    def test_the_worst_is_what_lacks_most(self, dug: Job) -> None:
        """An edge stone of 152 kg where 150 kg are lifted lacks less than a cheek of 140 kg where 60 kg are."""
        job = setting(dug, cheek=(0.6, 0.45, 0.332), chart=((1.3, 150.0), (1.7, 60.0)))
        finding = the(job, "stone-too-heavy")
        assert finding.place == "Cheeks of lip 1"
        assert "likewise" in finding.says

    def test_the_cure_cures(self, dug: Job) -> None:
        assert not found(setting(dug, chart=((1.7, 169.0), (3.0, 168.5))), "stone-too-heavy")

    def test_two_people_lift_33_kilograms(self, dug: Job) -> None:
        """Two thirds of twice 25 kg by the filter: a cheek of 33 kg yes, of 34 kg no, and one person 25."""
        for height, by in ((0.058, "one person"), (0.078, "a team"), (0.082, "nobody can tell")):
            job = setting(dug, cheek=(0.6, 0.45, height))
            (cheeks,) = [lift for lift in stone(job).lifts if lift.what == "cheeks of lip 1"]
            assert cheeks.by == by, cheeks.mass

    def test_out_of_reach_is_told(self, dug: Job) -> None:
        far = replace(dug, earthworks=replace(dug.earthworks, digger_reach=1.4))
        assert "1.70 m" in the(far, "stone-out-of-reach").says
        assert not found(dug, "stone-out-of-reach")

    def test_heaviest_first(self, hazel: Job) -> None:
        masses = [lift.mass for lift in stone(hazel).lifts]
        assert masses == sorted(masses, reverse=True)


def test_guessed_edge_stone_is_told(sparse: Job) -> None:
    assert not found(sparse, "edge-stone-guessed")
    job = replace(sparse, materials=replace(sparse.materials, edge_stone_per_bank=300.0))
    finding = the(job, "edge-stone-guessed")
    assert "6 t" in finding.says
    cured = replace(job, materials=replace(job.materials, edge_stone_per_bank=205.0))
    assert "= 205" in finding.cure
    assert not found(cured, "edge-stone-guessed")


def test_loads(sparse: Job) -> None:
    """Whole loads of 8 t and whole bags of 750 kg."""
    taken = stone(sparse)
    assert taken.delivery.loads == tuple(
        math.ceil(mass / 8000) for mass in (taken.total.low, taken.total.likely, taken.total.high)
    )
    (bed,) = taken.beds
    assert taken.delivery.bags == tuple(
        math.ceil(mass / 750) for mass in (bed.order.low, bed.order.likely, bed.order.high)
    )
    assert stone(setting(sparse, lorry=None)).delivery.loads is None


def test_rules_of_thumb_stand_eight_times_apart(sparse: Job) -> None:
    """10 m: 3.7 t as a rock-lined trench, up to 30 t as a naturalistic stream, by the trade's own figures."""
    rules = {rule.name: rule.mass for rule in stone(sparse).rules}
    assert rules["rock-lined trench"] == pytest.approx((3700, 3700))
    assert rules["naturalistic stream"] == pytest.approx((22000, 30000))
    assert rules["naturalistic stream"][1] / rules["rock-lined trench"][0] == pytest.approx(8, abs=0.2)


@pytest.mark.parametrize("name", NAMES)
class TestEveryExample:
    def test_parts_make_the_whole(self, name: str) -> None:
        taken = stone(read_job(EXAMPLES / name))
        orders = [
            taken.edge.order,
            taken.lip_order,
            taken.cheek_order,
            *(bed.order for bed in taken.beds),
            *(each.order for each in taken.fixed),
        ]
        for end in ("low", "likely", "high"):
            assert getattr(taken.total, end) == pytest.approx(sum(getattr(order, end) for order in orders), rel=1e-12)
        for order in (*orders, taken.total):
            assert order.low <= order.likely <= order.high

    def test_items(self, name: str) -> None:
        job = read_job(EXAMPLES / name)
        taken = stone(job)
        items = stonework_items(job, taken)
        assert len({each.key for each in items}) == len(items)
        for each in items:
            assert each.low <= each.amount <= each.high
            assert each.drawing
            assert each.note
        quarry = sum(each.amount for each in items if each.supplier == "quarry" and each.unit == "kg")
        assert quarry == pytest.approx(taken.total.likely, rel=1e-9)

    def test_figures_follow_from_their_inputs(self, name: str) -> None:
        job = read_job(EXAMPLES / name)
        figures = list(stonework_figures(job, stone(job)))
        assert len({figure.name for figure in figures}) == len(figures)
        for figure in figures:
            assert figure.low <= figure.amount * (1 + 1e-12)
            assert figure.amount <= figure.high * (1 + 1e-12)
            if figure.equation is not None:
                again = figure.equation(**{each.name: each.amount for each in figure.inputs})
                assert again == pytest.approx(figure.amount, rel=1e-9)

    def test_findings_say_everything(self, name: str) -> None:
        job = read_job(EXAMPLES / name)
        taken = stone(job)
        names = {figure.name for figure in stonework_figures(job, taken)}
        for finding in stonework_findings(job, taken):
            assert finding.figure in names
            assert finding.says.endswith(".")
            assert finding.cure.endswith(".")
            assert finding.source


@few
@given(factor=st.floats(1.05, 3.0))
def test_heavier_stone_more_tonnes(hazel: Job, factor: float) -> None:
    """Twice the density, twice every mass that is worked out; what was told stays."""
    denser = replace(hazel, materials=replace(hazel.materials, stone=hazel.materials.stone * factor))
    one, two = stone(hazel), stone(denser)
    assert two.cheek_mass == pytest.approx(factor * one.cheek_mass, rel=1e-9)
    assert two.beds[0].drawn == pytest.approx(factor * one.beds[0].drawn, rel=1e-9)
    assert two.edge.told == one.edge.told
