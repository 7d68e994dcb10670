"""Findings: each is told where it is so, with its number, and not where it is not; and its cure cures it."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from beckwright.base.findings import Finding, Severity
from beckwright.compose import design
from beckwright.figures import figures_of
from beckwright.job.model import BedMakeUp, Boundary, Edge, Job, Load, NamedFlow, Pump, Run, Service, Step, Tree
from beckwright.job.read import read_job

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").iterdir())


def found(job: Job, code: str) -> list[Finding]:
    return [finding for finding in design(job).findings if finding.code == code]


def the(job: Job, code: str) -> Finding:
    (finding,) = found(job, code)
    return finding


@pytest.fixture(scope="session")
def sound(plain: Job) -> Job:
    """The plain job with everything known and nothing to say about it but that it is sound."""
    pit = replace(plain.reservoir, cover=99.4, overflow=99.3, rested=99.15, length=4.0, width=2.0)
    site = replace(plain.site, groundwater_winter=5.0, access_width=1.5)
    flows = (NamedFlow(name="low", flow=0.001), NamedFlow(name="high", flow=0.002))
    return replace(plain, reservoir=pit, site=site, flows=flows)


def test_a_sound_job_has_nothing_but_the_notes_that_every_job_with_a_lip_has(sound: Job) -> None:
    assert {finding.code for finding in design(sound).findings} == {"outside-tested-range", "lip-level"}
    assert the(sound, "outside-tested-range").severity is Severity.NOTE


@pytest.mark.parametrize("folder", EXAMPLES, ids=lambda folder: folder.name)
class TestEveryExample:
    def test_heaviest_first(self, folder: Path) -> None:
        severities = [finding.severity for finding in design(read_job(folder)).findings]
        assert severities == sorted(severities, reverse=True)

    def test_every_finding_says_everything(self, folder: Path) -> None:
        for finding in design(read_job(folder)).findings:
            assert re.fullmatch(r"[a-z]+(-[a-z]+)*", finding.code)
            assert finding.place
            assert finding.source
            for sentence in (finding.says, finding.cure):
                assert sentence.endswith((".", "!")), finding
                assert "nan" not in sentence
                assert "None" not in sentence
            assert len(finding.chainage) in {0, 2}
            assert finding.chainage == tuple(sorted(finding.chainage))

    def test_every_finding_names_a_figure_that_there_is(self, folder: Path) -> None:
        designed = design(read_job(folder))
        names = {figure.name for figure in figures_of(designed)}
        assert {finding.figure for finding in designed.findings if finding.figure} <= names


def with_edges(job: Job, *edges: Edge) -> Job:
    return replace(job, course=replace(job.course, edges=edges))


class TestEdges:
    low = Edge(start=4.0, end=6.0, side="left", above_bed=0.10)

    def test_low_edge(self, sound: Job) -> None:
        """100 mm over the bed and 200 mm of fill that lose 20 mm leave 80 mm less the water: a caution. The pump flat
        out leaves least, for it gives more than any flow that was named."""
        finding = the(with_edges(sound, self.low), "freeboard-short")
        assert finding.severity is Severity.CAUTION
        assert finding.chainage == (4.0, 6.0)
        assert finding.place.startswith("Left edge")
        assert finding.figure == "freeboard.flat_out.left"

    def test_edge_under_water_fails(self, sound: Job) -> None:
        finding = the(with_edges(sound, replace(self.low, above_bed=0.02)), "freeboard-short")
        assert finding.severity is Severity.FAIL
        assert "under water" in finding.says

    @pytest.mark.parametrize("above_bed", [0.02, 0.06, 0.10, 0.11])
    def test_cure_cures(self, sound: Job, above_bed: float) -> None:
        """Raised by the ordered height on a bank that does not settle, the edge is no longer low; 10 mm less, it is."""
        rigid = replace(sound, course=replace(sound.course, settlement=0.0))
        low = replace(self.low, above_bed=above_bed)
        told = re.search(r"Raise that edge (\d+) mm", the(with_edges(rigid, low), "freeboard-short").cure)
        assert told is not None
        height = int(told[1]) / 1000
        assert not found(with_edges(rigid, replace(low, above_bed=above_bed + height)), "freeboard-short")
        assert found(with_edges(rigid, replace(low, above_bed=above_bed + height - 0.010)), "freeboard-short")

    @pytest.mark.parametrize("above_bed", [0.02, 0.06, 0.10])
    def test_cure_cures_on_fill_that_settles(self, sound: Job, above_bed: float) -> None:
        """What is added settles too: by the tenth that the job tells."""
        low = replace(self.low, above_bed=above_bed)
        told = re.search(r"Raise that edge (\d+) mm", the(with_edges(sound, low), "freeboard-short").cure)
        assert told is not None
        raised = replace(low, above_bed=above_bed + int(told[1]) / 1000)
        assert not found(with_edges(sound, raised), "freeboard-short")

    def test_banks_nobody_surveyed(self, sound: Job) -> None:
        narrow = replace(sound.survey, points=sound.survey.points * [1.0, 0.02])
        finding = the(
            replace(sound, survey=narrow, site=replace(sound.site, groundwater_winter=None)), "bank-not-surveyed"
        )
        assert finding.chainage == (0.0, 10.0)


def stony(job: Job, bed: BedMakeUp, flow: float, sills: tuple[float, ...] = ()) -> Job:
    run = Run(name="run 1", length=10.0, fall=0.5, width=0.6, bed=bed, sills=sills)
    return replace(
        job,
        flows=(NamedFlow(name="low", flow=flow),),
        course=replace(job.course, reaches=(run,)),
    )


def ordered(finding: Finding, pattern: str) -> float:
    told = re.search(pattern, finding.cure)
    assert told is not None, finding.cure
    return float(told[1].replace("\u2009", ""))


class TestUnseen:
    def test_swallowed(self, sound: Job, pebbles: BedMakeUp) -> None:
        finding = the(stony(sound, pebbles, 0.001), "runs-unseen")
        assert finding.severity is Severity.CAUTION
        assert finding.chainage == (0.0, 10.0)

    def test_enough_in_view(self, sound: Job, pebbles: BedMakeUp) -> None:
        assert not found(stony(sound, pebbles, 0.010), "runs-unseen")

    def test_ordered_flow_cures(self, sound: Job, pebbles: BedMakeUp) -> None:
        flow = ordered(the(stony(sound, pebbles, 0.002), "runs-unseen"), r"run ([\d\u2009]+) L/h") / 3.6e6
        assert not found(stony(sound, pebbles, flow * 1.01), "runs-unseen")
        assert found(stony(sound, pebbles, flow * 0.97), "runs-unseen")

    def test_ordered_stone_cures(self, sound: Job, pebbles: BedMakeUp) -> None:
        depth = ordered(the(stony(sound, pebbles, 0.002), "runs-unseen"), r"Leave (\d+) mm of open stone") / 1000
        assert not found(stony(sound, replace(pebbles, depth=depth - 0.001), 0.002), "runs-unseen")
        assert found(stony(sound, replace(pebbles, depth=depth + 0.002), 0.002), "runs-unseen")

    def test_ordered_sills_cure(self, sound: Job, pebbles: BedMakeUp) -> None:
        """Sills at the ordered spacing: by the water itself 70 % or more shows everywhere, so the finding must go."""
        spacing = ordered(the(stony(sound, pebbles, 0.002), "runs-unseen"), r"set a sill every ([\d.]+) m")
        sills = tuple(float(sill) for sill in np.arange(spacing, 10.0, spacing))
        job = stony(sound, pebbles, 0.002, sills)
        last = design(job).course.stations.chainage < sills[-1]
        assert design(job).water.shown[1, 0, last].min() >= 0.7 - 1e-9
        sealed = replace(
            job,
            course=replace(
                job.course,
                reaches=(*job.course.reaches, Step(name="lip", drop=0.1, lip_width=0.5, lip="flat slab")),
            ),
        )
        assert not found(sealed, "runs-unseen")


class TestLips:
    def stepped(self, job: Job, flow: float) -> Job:
        step = Step(name="lip", drop=0.1, lip_width=0.6, lip="flat slab")
        course = replace(job.course, reaches=(*job.course.reaches, step))
        return replace(job, course=course, flows=(NamedFlow(name="low", flow=flow),))

    def test_sheet_clings(self, sound: Job) -> None:
        """0.6 m at 1.03 L/s for each metre is 0.62 L/s, 2225 L/h."""
        finding = the(self.stepped(sound, 4e-4), "sheet-clings")
        assert ordered(finding, r"Run ([\d\u2009]+) L/h") == pytest.approx(2225, abs=50)
        assert finding.chainage == (10.0, 10.0)
        assert not found(self.stepped(sound, 6.3e-4), "sheet-clings")


class TestSupply:
    def test_pump_too_small_and_the_pair_that_would_do(self, sound: Job) -> None:
        strong = Pump(
            name="strong",
            flows=np.array([0.0, 0.02]),
            heads=np.array([20.0, 10.0]),
            watts=np.array([500.0, 900.0]),
            slowest=0.1,
        )
        job = replace(
            sound,
            flows=(*sound.flows, NamedFlow(name="flood", flow=0.006)),
            pumps=replace(sound.pumps, offered=(sound.pumps.chosen, strong)),
        )
        finding = the(job, "pump-too-small")
        assert finding.severity is Severity.FAIL
        assert "strong on smooth 50 hose" in finding.cure
        assert not found(replace(job, pumps=replace(job.pumps, chosen=strong)), "pump-too-small")

    def test_nothing_on_offer_will_do(self, sound: Job) -> None:
        job = replace(sound, flows=(*sound.flows, NamedFlow(name="flood", flow=0.006)))
        assert "no pair on offer" in the(job, "pump-too-small").cure

    def test_narrow_hose(self, sound: Job) -> None:
        """3 L/s through 50 mm is 1.5 m/s, over the habit of 1.2; 2 L/s is 1.0."""
        fast = replace(sound, flows=(NamedFlow(name="low", flow=0.0025),))
        assert the(fast, "hose-narrow").severity is Severity.CAUTION
        slow = replace(sound, flows=(NamedFlow(name="low", flow=0.002),))
        assert not found(slow, "hose-narrow")

    def test_valve(self, sound: Job) -> None:
        pump = replace(sound.pumps.chosen, slowest=0.95)
        job = replace(sound, pumps=replace(sound.pumps, chosen=pump, offered=(pump,)))
        assert the(job, "valve-needed").severity is Severity.NOTE

    def test_running_cost(self, sound: Job) -> None:
        cost = design(sound).supply.chosen.cost
        assert cost is not None
        over = replace(sound, prices=replace(sound.prices, running_limit=cost - 1))
        under = replace(sound, prices=replace(sound.prices, running_limit=cost + 1))
        assert the(over, "running-cost").severity is Severity.CAUTION
        assert not found(under, "running-cost")

    def test_thriftier_pair(self, sound: Job) -> None:
        """The same pump at half the watts saves half; at 95 % it is not worth a word."""
        pump = sound.pumps.chosen
        for share, told in ((0.5, 1), (0.95, 0)):
            thrifty = replace(pump, name="thrifty", watts=pump.watts * share)
            job = replace(sound, pumps=replace(sound.pumps, offered=(pump, thrifty)))
            assert len(found(job, "thriftier-pair")) == told


def with_pit(job: Job, **changes: object) -> Job:
    return replace(job, reservoir=replace(job.reservoir, **changes))


class TestPit:
    def test_runs_dry_at_start_and_what_is_short(self, sound: Job) -> None:
        """The pit lends 15 cm more than it has: what is short is that depth over plan and voids."""
        designed = design(sound)
        short = replace(
            sound.reservoir, pump_depth=designed.reservoir.lowest + 0.05 - designed.reservoir.pit.sump_floor
        )
        finding = the(replace(sound, reservoir=short), "runs-dry-at-start")
        assert finding.severity is Severity.FAIL
        assert f"{8.0 * 0.05 * 0.95 * 1000:.0f} L short" in finding.says
        assert not found(sound, "runs-dry-at-start")

    def test_first_fill(self, sound: Job) -> None:
        """The box alone takes 60 L for good; a pump that stops just under the running level cannot spare them."""
        designed = design(sound)
        deep = designed.reservoir.lowest - 0.002 - designed.reservoir.pit.sump_floor
        assert the(with_pit(sound, pump_depth=deep), "first-fill").severity is Severity.CAUTION
        assert not found(sound, "first-fill")

    def test_overflows_at_stop(self, sound: Job) -> None:
        assert the(with_pit(sound, rested=99.31), "overflows-at-stop").severity is Severity.FAIL
        assert "10 mm over" in the(with_pit(sound, rested=99.31), "overflows-at-stop").says

    def test_float_level(self, sound: Job) -> None:
        """Rest level at the overflow: all that is lent goes over when it stops."""
        finding = the(with_pit(sound, rested=99.3), "float-level")
        assert finding.severity is Severity.NOTE
        lent = float(design(with_pit(sound, rested=99.3)).reservoir.lent[2].max())
        assert f"{lent * 1000:.0f} L go over" in finding.says

    def test_last_fall(self, sound: Job) -> None:
        """Bed ends at 99.50: 0.20 m over a cover at 99.30 wants a last fall; 0.10 m does not."""
        assert "200 mm above" in the(with_pit(sound, cover=99.3, overflow=99.2, rested=99.1), "last-fall").says
        assert not found(sound, "last-fall")

    def test_end_below_overflow(self, sound: Job) -> None:
        finding = the(with_pit(sound, cover=99.8, overflow=99.53, rested=99.3), "end-below-overflow")
        assert finding.severity is Severity.FAIL
        assert "30 mm below" in finding.says

    def test_may_float(self, sound: Job) -> None:
        """Empty lining floats as soon as water stands over its floor at 98.30; the finished pit holds out longer."""
        high = replace(sound, site=replace(sound.site, groundwater_winter=0.05))
        states = [finding.place for finding in found(high, "may-float")]
        assert "Pit: lined pit, nothing in it yet" in states
        assert "Pit: finished, reservoir empty" in states
        dry = replace(sound, site=replace(sound.site, groundwater_winter=4.0))
        assert not found(dry, "may-float")

    def test_ground_water_nobody_measured(self, sound: Job) -> None:
        unknown = replace(sound, site=replace(sound.site, groundwater_winter=None))
        assert the(unknown, "groundwater-unknown").severity is Severity.CAUTION

    def test_crates(self, sound: Job) -> None:
        wheel = Load(name="wheel", force=10e3, contact=(0.2, 0.2), dynamic=1.0)
        unknown = with_pit(sound, loads=(wheel,))
        assert the(unknown, "strength-unknown").severity is Severity.CAUTION
        assert the(with_pit(unknown, strength_long_term=30e3), "crates-overloaded").severity is Severity.FAIL
        strong = with_pit(unknown, strength_long_term=300e3)
        assert not found(strong, "crates-overloaded")
        assert not found(strong, "strength-unknown")
        assert not found(with_pit(unknown, fill="stones", crate=None), "strength-unknown")


class TestSite:
    tree = Tree(name="T1", species="oak", at=(5.0, 3.0), stems=(0.3,), protected=False)

    def test_roots(self, sound: Job) -> None:
        job = replace(sound, site=replace(sound.site, trees=(self.tree,)))
        finding = the(job, "inside-root-circle")
        assert finding.severity is Severity.CAUTION
        assert "No shift" in finding.cure
        protected = replace(sound, site=replace(sound.site, trees=(replace(self.tree, protected=True),)))
        assert the(protected, "inside-root-circle").severity is Severity.FAIL
        far = replace(sound, site=replace(sound.site, trees=(replace(self.tree, at=(5.0, 5.1)),)))
        assert not found(far, "inside-root-circle")

    def test_service(self, sound: Job) -> None:
        """At y = -0.7 a cable is 0.4 m off the bed, 0.5 m wanted; through the pit it fails."""
        beside = Service(
            name="cable", kind="electricity", line=((0.0, -0.7), (5.0, -0.7)), depth=0.6, clearance=0.5, note=""
        )
        through = replace(beside, line=((12.0, -5.0), (12.0, 5.0)))
        clear = replace(beside, line=((0.0, -0.9), (5.0, -0.9)))

        def crossing(service: Service) -> Job:
            return replace(sound, site=replace(sound.site, services=(service,)))

        assert the(crossing(beside), "near-service").severity is Severity.CAUTION
        assert "Stream bed 0.40 m away" in the(crossing(beside), "near-service").says
        assert the(crossing(through), "near-service").severity is Severity.FAIL
        assert not found(crossing(clear), "near-service")

    def test_boundary_and_damp_proof_course(self, sound: Job) -> None:
        """Water runs a little over 100.00 at the head; 150 mm under a damp-proof course at 100.10 is 99.95."""
        wall = Boundary(name="wall", line=((0.0, 2.0), (5.0, 2.0)), clearance=2.0, damp_proof=100.10)
        job = replace(sound, site=replace(sound.site, boundaries=(wall,)))
        assert the(job, "near-boundary").severity is Severity.CAUTION
        assert the(job, "above-damp-proof").severity is Severity.CAUTION
        high = replace(sound, site=replace(sound.site, boundaries=(replace(wall, clearance=1.0, damp_proof=100.3),)))
        assert not found(high, "near-boundary")
        assert not found(high, "above-damp-proof")


def test_a_finding_keeps_the_capitals_of_peoples_names(sound: Job) -> None:
    """The first letter opens the sentence; the rest is as typed."""
    boundary = Boundary(name="wall of St Mary's", line=((0.0, 0.0), (10.0, 0.0)), clearance=50.0, damp_proof=None)
    job = replace(sound, site=replace(sound.site, boundaries=(boundary,)))
    assert the(job, "near-boundary").place == "Wall of St Mary's"
