"""Crates against every arrangement there is, loads by hand, and a chamber that somebody must get at."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.base.findings import Finding, Severity
from beckwright.compose import design
from beckwright.equations.reservoir import patch_pressure, spread_pressure
from beckwright.figures.crates import crate_figures
from beckwright.job.model import Job, Load
from beckwright.job.read import read_job
from beckwright.stages.crates import ChamberFit, CrateLayout, Layer, fit_chamber, lay_crates
from beckwright.stages.crates.bond import joints_of, stacked, two_layers
from beckwright.stages.crates.chamber import taken_by
from beckwright.stages.crates.items import crate_items
from beckwright.stages.crates.loads import strength_of
from beckwright.stages.crates.packing import arrangements, nearest_pit
from beckwright.stages.findings.crates import chamber_findings, crate_findings
from tests.stages.conftest import EXAMPLES

NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
few = settings(max_examples=40)


def most_by_milp(length: int, width: int, crate: tuple[int, int]) -> int:
    """Every place a crate may lie in whole units, no square covered twice: solved exactly, holes in the middle too."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    rows = []
    for a, b in {crate, crate[::-1]}:
        for x in range(length - a + 1):
            for y in range(width - b + 1):
                square = np.zeros((length, width))
                square[x : x + a, y : y + b] = 1
                rows.append(square.ravel())
    if not rows:
        return 0
    solved = milp(
        -np.ones(len(rows)),
        constraints=LinearConstraint(np.array(rows).T, 0, 1),
        integrality=np.ones(len(rows)),
        bounds=Bounds(0, 1),
    )
    return round(-solved.fun)


def most_by_cuts(length: int, width: int, crate: tuple[int, int], known: dict[tuple[int, int], int]) -> int:
    """Every straight cut at every whole unit, tried out: slow and plain."""
    if (length, width) not in known:
        fits = sorted((length, width))[0] >= min(crate) and max(length, width) >= max(crate)
        known[length, width] = max(
            [
                int(fits),
                *(
                    most_by_cuts(x, width, crate, known) + most_by_cuts(length - x, width, crate, known)
                    for x in range(1, length // 2 + 1)
                ),
                *(
                    most_by_cuts(length, y, crate, known) + most_by_cuts(length, width - y, crate, known)
                    for y in range(1, width // 2 + 1)
                ),
            ]
        )
    return known[length, width]


def boxes(layer: Layer) -> np.ndarray:
    return np.array([(c.along, c.across, c.along + c.length, c.across + c.width) for c in layer.crates])


class TestPacking:
    @few
    @given(length=st.integers(1, 14), width=st.integers(1, 14), long=st.integers(1, 6), wide=st.integers(1, 6))
    def test_as_many_as_every_straight_cut(self, length: int, width: int, long: int, wide: int) -> None:
        layer = arrangements(length, width, (long, wide))[0]
        assert len(layer.crates) == most_by_cuts(length, width, (long, wide), {})

    @few
    @given(length=st.integers(1, 9), width=st.integers(1, 9))
    def test_crates_twice_as_long_as_wide_are_laid_as_many_as_can_be(self, length: int, width: int) -> None:
        """Against an exact solver: with these no arrangement round a hole holds more."""
        assert len(arrangements(length, width, (2, 1))[0].crates) == most_by_milp(length, width, (2, 1))

    def test_a_pinwheel_is_not_tried(self) -> None:
        """5 by 5 takes four of 3 by 2 round a hole, and no straight cut does: the module says so."""
        assert most_by_milp(5, 5, (3, 2)) == 4
        assert len(arrangements(5, 5, (3, 2))[0].crates) == 3

    def test_published(self) -> None:
        """49 by 28 takes 57 of 8 by 3 by the best program published and 56 by cuts of the first order: stored page."""
        assert 55 <= len(arrangements(49, 28, (8, 3))[0].crates) <= 56

    def test_mixed_rows_hold_more_than_plain_ones(self) -> None:
        """2.0 by 1.4 m: plain rows of 0.8 by 0.6 m take 4 either way; one row 0.6 and one 0.8 deep takes 5."""
        layer = arrangements(2.0, 1.4, (0.8, 0.6))[0]
        assert len(layer.crates) == 5

    @few
    @given(
        length=st.floats(0.3, 6),
        width=st.floats(0.3, 6),
        long=st.floats(0.3, 1.2),
        wide=st.floats(0.3, 1.2),
    )
    def test_none_overlaps_and_none_sticks_out(self, length: float, width: float, long: float, wide: float) -> None:
        for layer in arrangements(length, width, (long, wide)):
            found = boxes(layer)
            if not len(found):
                continue
            assert found[:, :2].min() >= -1e-9
            assert (found[:, 2:] <= np.array([length, width]) + 1e-5).all()
            one, other = np.triu_indices(len(found), 1)
            meets = np.minimum(found[one, 2:], found[other, 2:]) - np.maximum(found[one, :2], found[other, :2])
            assert not (meets > 1e-5).all(axis=1).any()
            for crate in layer.crates:
                assert sorted((crate.length, crate.width)) == pytest.approx(sorted((long, wide)), abs=1e-6)

    @few
    @given(length=st.floats(0.5, 5), width=st.floats(0.5, 5))
    def test_a_longer_pit_takes_no_fewer(self, length: float, width: float) -> None:
        now, longer = (len(arrangements(size, width, (0.8, 0.4))[0].crates) for size in (length, length + 0.3))
        assert longer >= now

    def test_turned_it_is_the_same(self) -> None:
        for length, width in ((2.9, 1.7), (3.3, 2.1), (1.9, 4.2)):
            assert len(arrangements(length, width, (0.8, 0.6))[0].crates) == len(
                arrangements(width, length, (0.6, 0.8))[0].crates
            )


class TestNearestPit:
    def test_by_hand(self) -> None:
        """2.9 by 1.9 m with crates of 1.0 by 0.5: 3.0 by 2.0 m takes 12 and is 0.2 m off; 2.5 by 2.0 is 0.5 off."""
        other = nearest_pit(2.9, 1.9, (1.0, 0.5), 1.0)
        assert other is not None
        assert (other.length, other.width, other.crates) == pytest.approx((3.0, 2.0, 12))

    @few
    @given(length=st.floats(0.9, 5), width=st.floats(0.9, 5))
    def test_it_is_full(self, length: float, width: float) -> None:
        other = nearest_pit(length, width, (0.8, 0.4), 0.8)
        assert other is not None
        assert other.crates * 0.8 * 0.4 == pytest.approx(other.length * other.width, abs=1e-6)
        assert len(arrangements(other.length, other.width, (0.8, 0.4))[0].crates) == other.crates


class TestBond:
    def test_joints_of_two_by_two(self) -> None:
        """Four crates of 1.0 by 0.5 m in 2.0 by 1.0: two joints across, two along."""
        across, along = joints_of(arrangements(2.0, 1.0, (1.0, 0.5))[0])
        assert (len(across), len(along)) == (2, 2)
        assert across[:, 2] - across[:, 1] == pytest.approx([0.5, 0.5])

    def test_a_layer_on_itself_is_stacked(self) -> None:
        layer = arrangements(2.0, 1.0, (1.0, 0.5))[0]
        assert stacked(layer, layer) == pytest.approx(1.0)

    def test_turned_crates_stand_across_joints(self) -> None:
        """2.0 by 1.0 m: upper joints at 0.5, 1.0 and 1.5 m across, none along but where all meet: 1 m of 3 over one."""
        lower, upper, share = two_layers(2.0, 1.0, (1.0, 0.5))
        assert len(lower.crates) == len(upper.crates) == 4
        assert share == pytest.approx(1 / 3)

    @few
    @given(length=st.floats(0.9, 5), width=st.floats(0.9, 5))
    def test_the_upper_layer_holds_as_many(self, length: float, width: float) -> None:
        lower, upper, share = two_layers(length, width, (0.8, 0.4))
        assert len(lower.crates) == len(upper.crates)
        assert 0 <= share <= 1
        assert share <= stacked(lower, lower)


def laid(job: Job) -> CrateLayout:
    layout = lay_crates(job, design(job).reservoir)
    assert layout is not None
    return layout


def fitted(job: Job) -> ChamberFit:
    return fit_chamber(job, design(job).stability)


def pit(job: Job, **changes: object) -> Job:
    return replace(job, reservoir=replace(job.reservoir, **changes))


def chamber(job: Job, **changes: object) -> Job:
    return replace(job, chamber=replace(job.chamber, **changes))


def found(job: Job, code: str) -> list[Finding]:
    told = (*crate_findings(job, laid(job)), *chamber_findings(job, fitted(job)))
    return [finding for finding in told if finding.code == code]


def the(job: Job, code: str) -> Finding:
    (finding,) = found(job, code)
    return finding


@pytest.fixture
def alone(plain: Job) -> Job:
    """The plain job with no chamber told, no digger, nothing on the cover: 2.0 by 1.5 m, crates 1.0 by 0.5 by 0.4."""
    bare = chamber(
        plain,
        inside=None,
        wall=0.02,
        pump=None,
        slots=None,
        lid=None,
        lid_pieces=1,
        lid_bears=None,
        locked=None,
        grille=None,
        lifts_out=None,
    )
    return replace(
        bare,
        earthworks=replace(bare.earthworks, digger_width=None, digger_reach=None),
        force=replace(bare.force, machine="by hand"),
        stonework=replace(bare.stonework, on_cover=None),
    )


class TestLayout:
    @pytest.mark.parametrize(
        ("length", "width", "crates"),
        [(2.0, 1.5, 12), (2.9, 1.9, 14), (1.5, 2.0, 12), (0.9, 0.4, 0)],
        ids=["2 x 3", "half units: 15 of them, 7 pairs", "3 x 2", "none fits"],
    )
    def test_whole_crates(self, alone: Job, length: float, width: float, crates: int) -> None:
        """Hand calculation, two layers. In 2.9 by 1.9 m lie 5 by 3 squares of 0.5 m, of which a crate takes two."""
        layout = laid(pit(alone, length=length, width=width))
        assert layout.count == layout.places == crates

    def test_brief_of_hazel_bank(self, hazel: Job) -> None:
        """24 crates without a chamber: hand calculation of the brief. One of 0.59 m takes two a layer in its corner."""
        layout = laid(hazel)
        assert layout.places == 24
        assert (layout.taken, layout.count) == (4, 20)
        assert layout.suits
        assert layout.gap == 0
        assert layout.around == pytest.approx(2 * 0.32 - 0.59**2)

    def test_volume_and_clips(self, alone: Job) -> None:
        """Hand calculation: 12 of 0.2 m3; 3 + 4 joints a layer and 6 between them, one, two or four clips each."""
        layout = laid(alone)
        assert layout.volume == pytest.approx(2.4)
        assert layout.joints == 7 * 2 + 6
        assert layout.clips == (20, 40, 80)

    def test_gap_is_stone_and_holds_less(self, alone: Job) -> None:
        """Hand calculation: 2.2 by 1.5 m leave 0.2 by 1.5 m; 0.24 m3 of stone holds 0.55 less of it than crates."""
        layout = laid(pit(alone, length=2.2))
        assert layout.gap == pytest.approx(0.3)
        assert layout.gap_fill == pytest.approx(0.24)
        assert layout.lost == pytest.approx(0.24 * (0.95 - 0.40))
        assert not layout.suits

    def test_gap_is_told_with_the_pit_that_cures_it(self, alone: Job) -> None:
        job = pit(alone, length=2.2)
        finding = the(job, "crates-leave-gap")
        assert "2.00 m by 1.50 m" in finding.cure
        assert "132 L" in finding.says
        assert not found(pit(alone, length=2.0), "crates-leave-gap")

    def test_none_without_crates(self, alone: Job) -> None:
        job = pit(alone, fill="stones", crate=None)
        assert lay_crates(job, design(job).reservoir) is None
        keys = {each.key for each in crate_items(job, None, fitted(job), design(job).reservoir)}
        assert keys == {"stone.fill", "stone.cover", "chamber", "lid"}


class TestLoads:
    """0.2 m of cover of 16 kN/m3: 3.2 kPa."""

    def loaded(self, job: Job, force: float = 10e3, **changes: object) -> Job:
        load = Load(name="wheel", force=force, contact=(0.2, 0.2), dynamic=1.0)
        return pit(job, loads=(load,), **changes)

    def test_by_hand(self, alone: Job) -> None:
        """10 kN on 0.2 by 0.2 m through 0.5 m at 18 kN/m3 on 171.6 kPa: 42.762 kPa against 62.4, 0.6853."""
        job = self.loaded(alone, cover_depth=0.5, cover_weight=18e3, strength_vertical=171.6e3)
        wheel = laid(job).loads[0]
        assert wheel.spread == pytest.approx(20.408e3, rel=1e-4)
        assert wheel.design == pytest.approx(42.762e3, rel=1e-4)
        assert wheel.strength == pytest.approx(62.4e3, rel=1e-4)
        assert wheel.use == pytest.approx(0.6853, rel=1e-3)
        assert wheel.wanted == pytest.approx(2.75 * 42.762e3, rel=1e-4)
        assert wheel.cover == 0.5

    def test_agrees_with_the_pit(self, alone: Job) -> None:
        """One load, one number: the reservoir's and this room's."""
        job = self.loaded(alone, strength_long_term=50e3)
        filled = design(job).reservoir
        (pressed,), wheel = filled.pressed, laid(job).loads[0]
        assert (pressed.spread, pressed.design, pressed.use) == (wheel.spread, wheel.design, wheel.use)
        assert pressed.strength == strength_of(job.reservoir)

    def test_unknown_strength_never_passes(self, alone: Job) -> None:
        for load in laid(alone).loads:
            assert load.strength is None
            assert load.use is None
            assert load.cover is None

    def test_cover_that_cures(self, alone: Job) -> None:
        """The cover found is enough, and 10 mm less is not."""
        job = self.loaded(alone, strength_long_term=60e3)
        wheel = laid(job).loads[0]
        assert wheel.use is not None
        assert wheel.use > 1
        assert wheel.cover is not None
        for depth, fits in ((wheel.cover, True), (wheel.cover - 0.01, False)):
            again = laid(self.loaded(alone, strength_long_term=60e3, cover_depth=depth)).loads[0]
            assert again.use is not None
            assert (again.use <= 1) is fits

    def test_no_cover_helps_where_the_cover_itself_is_too_heavy(self, alone: Job) -> None:
        assert laid(self.loaded(alone, force=500e3, strength_long_term=10e3)).loads[0].cover is None

    @few
    @given(cover=st.floats(0.05, 2), deeper=st.floats(0.01, 1), force=st.floats(100, 1e5))
    def test_deeper_cover_less_pressure(self, cover: float, deeper: float, force: float) -> None:
        for law in (spread_pressure, patch_pressure):
            assert law(force, 0.2, 0.1, cover + deeper) < law(force, 0.2, 0.1, cover)

    def test_thin_cover(self, alone: Job) -> None:
        """A wheel wants 0.6 m and a foot 0.15: a wheel on 0.2 m is told, a foot is not."""
        assert "400 mm" in the(self.loaded(alone), "cover-thin").cure
        assert not found(self.loaded(alone, force=1e3), "cover-thin")
        assert not found(self.loaded(alone, cover_depth=0.6), "cover-thin")

    def test_heaviest_stone_counts_as_permanent(self, alone: Job) -> None:
        """Hand calculation: 0.6 x 0.6 x 0.5 x 0.4 m of 2600 kg/m3 is 187.2 kg; 1835.8 N over 0.8 by 0.7 m, 3.278 kPa;
        1.35 (3.2 + 3.278) = 8.746 kPa."""
        work = replace(alone.stonework, on_cover=(0.6, 0.5, 0.4), shape=0.6)
        job = replace(alone, stonework=work, materials=replace(alone.materials, stone=2600.0))
        (stone,) = [load for load in laid(job).loads if load.comes == "stone"]
        assert stone.design == pytest.approx(8746, rel=1e-3)
        assert laid(job).creep.standing == pytest.approx(stone.design)
        assert the(job, "stone-on-crates").severity is Severity.CAUTION

    def test_weak_crates_under_a_stone_fail(self, alone: Job) -> None:
        work = replace(alone.stonework, on_cover=(1.0, 0.9, 0.8), shape=0.6)
        job = pit(replace(alone, stonework=work), strength_long_term=10e3)
        assert the(job, "stone-on-crates").severity is Severity.FAIL
        assert the(job, "crates-creep").severity is Severity.FAIL


class TestDigger:
    def dug(self, job: Job, width: float, **changes: object) -> Job:
        return pit(replace(job, earthworks=replace(job.earthworks, digger_width=width)), **changes)

    @pytest.mark.parametrize(
        ("width", "name"), [(0.7, "0.75 t"), (0.99, "1.5 t"), (1.5, "3 t"), (2.3, "8 t"), (3.0, "8 t")]
    )
    def test_class_by_width(self, alone: Job, width: float, name: str) -> None:
        """Hire pages: 0.70 to 0.75 m are 0.75 t, about 1.0 m 1.5 to 1.8 t, 1.5 m 3 t."""
        (load,) = [load for load in laid(self.dug(alone, width)).loads if load.comes == "digger"]
        assert load.name == f"digger of {name}"

    def test_by_hand(self, alone: Job) -> None:
        """1.5 t, three quarters on half of one track of 0.23 m: 11 032 N over 0.8 by 0.43 m, 32.07 kPa;
        1.35 x 3.2 + 1.5 x 32.07 = 52.43 kPa."""
        (load,) = [load for load in laid(self.dug(alone, 1.0)).loads if load.comes == "digger"]
        assert load.spread == pytest.approx(32.07e3, rel=1e-3)
        assert load.design == pytest.approx(52.43e3, rel=1e-3)

    def test_told_unless_the_strength_is_there(self, alone: Job) -> None:
        assert the(self.dug(alone, 1.0), "digger-on-crates").severity is Severity.CAUTION
        weak = the(self.dug(alone, 1.0, strength_vertical=100e3), "digger-on-crates")
        assert weak.severity is Severity.FAIL
        assert "36 kPa they bear" in weak.says
        assert not found(self.dug(alone, 1.0, strength_long_term=53e3), "digger-on-crates")

    def test_what_is_asked_for_would_do(self, alone: Job) -> None:
        """145 kPa short-term, rounded up from 52.43 x 2.75 = 144.2."""
        assert "145 kPa" in the(self.dug(alone, 1.0), "digger-on-crates").cure
        assert not found(self.dug(alone, 1.0, strength_vertical=145e3), "digger-on-crates")

    def test_no_digger_no_load(self, alone: Job) -> None:
        assert not [load for load in laid(alone).loads if load.comes == "digger"]


class TestSide:
    def test_by_hand(self, alone: Job) -> None:
        """1.0 m down: 1.35 x 0.5 x 18 + 1.5 x 0.5 x 5 = 15.9 kPa; with K 0.4 and 16, 0.6 and 20: 11.64 and 20.7."""
        side = laid(alone).side
        assert side.depth == pytest.approx(1.0)
        assert side.head == 0
        assert side.design == pytest.approx([11.64e3, 15.9e3, 20.7e3], rel=1e-9)

    def test_water_outside_comes_on_top(self, alone: Job) -> None:
        """Water 0.6 m down stands 0.4 m over the foot: 1.35 x 3.923 = 5.296 kPa more."""
        wet = replace(alone, site=replace(alone.site, groundwater_winter=0.6))
        assert laid(wet).side.design - laid(alone).side.design == pytest.approx(5.296e3, rel=1e-3)

    def test_unknown_and_too_weak_and_enough(self, alone: Job) -> None:
        assert the(alone, "crates-pressed-sideways").severity is Severity.CAUTION
        assert "57 kPa" in the(alone, "crates-pressed-sideways").cure
        assert found(pit(alone, strength_lateral=40e3), "crates-pressed-sideways")
        assert not found(pit(alone, strength_lateral=57e3), "crates-pressed-sideways")


class TestCreep:
    def test_share_of_the_short_term_strength(self, alone: Job) -> None:
        """Hand calculation: 0.35 and 0.5 of 10 kPa; 1.35 x 3.2 = 4.32 kPa stand: over the low end."""
        creep = laid(pit(alone, strength_vertical=10e3)).creep
        assert creep.standing == pytest.approx(4320)
        assert creep.strength == pytest.approx((3500, 5000))
        assert found(pit(alone, strength_vertical=10e3), "crates-creep")
        assert not found(pit(alone, strength_vertical=20e3), "crates-creep")

    def test_given_goes_first(self, alone: Job) -> None:
        creep = laid(pit(alone, strength_vertical=100e3, strength_long_term=40e3)).creep
        assert creep.strength == (40e3, 40e3)


def test_if_someone_drives(alone: Job) -> None:
    told = the(alone, "if-someone-drives")
    assert told.severity is Severity.NOTE
    assert "no strength was given" in told.says
    assert "car" in told.says
    assert not found(pit(alone, strength_long_term=2e6), "if-someone-drives")


class TestChamber:
    def test_fewest_crates_give_way(self) -> None:
        """0.59 m square in a corner of 2.4 by 1.6 m laid 0.8 by 0.4: two; 0.3 m square: one."""
        layer = arrangements(2.4, 1.6, (0.8, 0.4))[0]
        assert taken_by(layer, 2.4, 1.6, (0.59, 0.59)) == 2
        assert taken_by(layer, 2.4, 1.6, (0.3, 0.3)) == 1
        assert taken_by(layer, 2.4, 1.6, (0.4, 0.8)) == 1

    def test_room_the_better_way_round(self, alone: Job) -> None:
        """Hand calculation: a pump 0.3 by 0.2 m in 0.5 by 0.35: 0.1 and 0.075 m beside it."""
        fit = fitted(chamber(alone, inside=(0.35, 0.5), pump=(0.3, 0.2, 0.25)))
        assert fit.room == pytest.approx(0.075)

    def test_pump_stuck(self, alone: Job) -> None:
        tight = chamber(alone, inside=(0.3, 0.4), pump=(0.3, 0.24, 0.25))
        assert "40 mm" in the(tight, "pump-stuck").cure
        assert not found(chamber(tight, inside=(0.34, 0.44)), "pump-stuck")
        assert the(chamber(tight, inside=(0.2, 0.4)), "pump-stuck").severity is Severity.FAIL

    def test_slots(self, alone: Job) -> None:
        """The plain job's largest flow through 0.05 m/s of slots; half of that area is twice as fast."""
        wanted = fitted(alone).slots.wanted
        assert wanted[1] == pytest.approx(2 * wanted[0])
        calm, fast = (chamber(alone, slots=wanted[1] * share) for share in (1.0, 0.4))
        assert not found(calm, "slots-fast")
        assert the(fast, "slots-fast").severity is Severity.CAUTION

    @pytest.mark.parametrize(("kilograms", "pieces", "told"), [(25, 1, 0), (26, 1, 1), (49, 2, 0), (60, 2, 1)])
    def test_lid(self, alone: Job, kilograms: float, pieces: int, told: int) -> None:
        assert len(found(chamber(alone, lid=kilograms, lid_pieces=pieces), "lid-heavy")) == told

    def test_lid_is_parted_in_enough(self, alone: Job) -> None:
        assert "3 pieces" in the(chamber(alone, lid=60.0), "lid-heavy").cure
        assert not found(chamber(alone, lid=60.0, lid_pieces=3), "lid-heavy")

    @pytest.mark.parametrize(
        ("changes", "severity"),
        [
            ({"locked": False, "grille": True}, Severity.CAUTION),
            ({"locked": False, "grille": False}, Severity.FAIL),
            ({"grille": False}, Severity.FAIL),
            ({"lid_bears": 40.0}, Severity.FAIL),
        ],
    )
    def test_children(self, alone: Job, changes: dict[str, object], severity: Severity) -> None:
        assert the(chamber(alone, **changes), "child-at-chamber").severity is severity
        assert "drown" in the(chamber(alone, **changes), "child-at-chamber").says

    def test_nothing_said_of_children_where_lid_and_grille_are_right(self, alone: Job) -> None:
        assert not found(chamber(alone, locked=True, grille=True, lid_bears=150.0), "child-at-chamber")

    def test_nobody_climbs_in(self, alone: Job) -> None:
        deep = pit(alone, sump=0.5)
        assert found(deep, "nobody-climbs-in")
        assert not found(chamber(deep, lifts_out=True), "nobody-climbs-in")
        assert not found(pit(alone, sump=0.1), "nobody-climbs-in")

    def test_what_nobody_told(self, alone: Job) -> None:
        assert "the lid's mass" in the(alone, "chamber-untold").says
        known = chamber(
            alone, inside=(0.5, 0.5), pump=(0.3, 0.2, 0.2), slots=1.0, lid=20.0, lid_bears=150.0, locked=True
        )
        assert not found(known, "chamber-untold")


@pytest.mark.parametrize("name", NAMES)
class TestEveryExample:
    def test_figures_follow_from_their_inputs(self, name: str) -> None:
        job = read_job(EXAMPLES / name)
        made = design(job)
        layout, fit = lay_crates(job, made.reservoir), fit_chamber(job, made.stability)
        figures = list(crate_figures(job, layout, fit))
        names = {figure.name for figure in figures}
        assert len(names) == len(figures)
        for figure in figures:
            assert type(figure.amount) is float
            assert figure.low <= figure.amount <= figure.high
            if figure.equation is not None:
                again = figure.equation(**{each.name: each.amount for each in figure.inputs})
                assert again == pytest.approx(figure.amount, rel=1e-9)
        told = (*(crate_findings(job, layout) if layout else ()), *chamber_findings(job, fit))
        for finding in told:
            assert finding.figure in names or finding.figure.startswith("reservoir.load.")
            assert finding.says.endswith(".")
            assert finding.cure.endswith(".")

    def test_items(self, name: str) -> None:
        job = read_job(EXAMPLES / name)
        made = design(job)
        items = crate_items(job, lay_crates(job, made.reservoir), fit_chamber(job, made.stability), made.reservoir)
        assert len({each.key for each in items}) == len(items)
        for each in items:
            assert each.low <= each.amount <= each.high
            assert each.drawing
            assert each.note
