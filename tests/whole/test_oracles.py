"""The stages against outside engines and measurements.

- EPANET 2.2, the public-domain pipe-network engine, run here through ``wntr``: Darcy-Weisbach with Swamee-Jain and
  Dunlop's cubic, pump curve straight between its points. Its gravity is 32.2 ft/s2, 0.08 % above ours.
- The US EPA drainage-routing engine, run here through ``pyswmm``: dynamic wave, the flow left to settle.
- ``fluids``: Ergun's pressure drop.
- Schwindt, Franca & Schleiss (2017): depths measured in a flume at our scale; paper in ``tests/sources``.
"""

import warnings
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from fluids.packed_bed import Ergun

from beckwright.base.values import value
from beckwright.compose import design
from beckwright.equations.resistance import strickler_n
from beckwright.equations.water import water_viscosity
from beckwright.job.model import BedMakeUp, Hose, Job, LipKind, NamedFlow, Pump, Run, Step
from beckwright.job.read import read_job
from beckwright.stages.course import set_out_course
from beckwright.stages.ground import build_ground
from beckwright.stages.supply import Duty, LaidHose, Losses, curve_of, duty_of, lay, speed_for
from beckwright.stages.water import run_water
from beckwright.stages.water.beds import LOW, MIDDLE
from beckwright.stages.water.controls import heads_over
from beckwright.stages.water.depth import Channel, normal_depth

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("fennymoor_park", "hazel_bank", "larkspur_court", "withy_lane")
ENGINE_VISCOSITY = 1.1e-5 * 0.3048**2
"""What the pipe engine multiplies its relative viscosity by, m2/s."""


@cache
def example(name: str) -> Job:
    return read_job(EXAMPLES / name)


@value
class Main:
    """One pump set on one hose, as both sides are told of it. ``duty`` is ours."""

    name: str
    pump: Pump
    laid: LaidHose
    lift: float
    together: int
    speed: float
    duty: Duty


def engine_flows(mains: list[Main], folder: Path) -> dict[str, float]:
    """Flow of every main by the pipe engine, m3/s: many small networks side by side, one viscosity."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import wntr

        network = wntr.network.WaterNetworkModel()
        options = network.options
        options.hydraulic.headloss, options.hydraulic.inpfile_units = "D-W", "LPS"
        options.hydraulic.viscosity = mains[0].laid.viscosity / ENGINE_VISCOSITY
        options.hydraulic.accuracy, options.hydraulic.trials, options.time.duration = 1e-8, 500, 0
        for number, main in enumerate(mains):
            _lay(network, f"{number}", main)
        run = wntr.sim.EpanetSimulator(network).run_sim(file_prefix=str(folder / "run"))
        flows = run.link["flowrate"].iloc[0]
    return {main.name: float(flows[f"hose{number}"]) for number, main in enumerate(mains)}


def _lay(network: Any, key: str, main: Main) -> None:
    network.add_reservoir(f"pit{key}", base_head=10.0)
    network.add_reservoir(f"top{key}", base_head=10.0 + main.lift)
    network.add_junction(f"end{key}", base_demand=0.0)
    hose = main.laid.hose
    network.add_pipe(
        f"hose{key}",
        f"end{key}",
        f"top{key}",
        main.laid.length,
        hose.bore,
        roughness=hose.roughness,
        minor_loss=main.laid.fittings,
    )
    network.add_curve(f"curve{key}", "HEAD", list(zip(main.pump.flows, main.pump.heads, strict=True)))
    for each in range(main.together):
        network.add_pump(f"pump{key}.{each}", f"pit{key}", f"end{key}", "HEAD", f"curve{key}", speed=main.speed)


def _smooth_factor(hose: Hose) -> Hose:
    """The engine knows no extra loss of ribbed walls."""
    return replace(hose, loss_factor=1.0)


def _offered(job: Job) -> Iterator[tuple[Pump, LaidHose]]:
    for hose in job.route.offered:
        laid = lay(_smooth_factor(hose), job.route, water_viscosity(job.water_temperature))
        for pump in job.pumps.offered:
            yield pump, laid


def _flat_out(job: Job, together: int) -> list[Main]:
    """Every pair on offer that lifts the water and stays on its table."""
    lift = job.source.hose_outlet - job.reservoir.rested + 0.2
    mains = []
    for pump, laid in _offered(job):
        duty = duty_of(curve_of(pump), together, laid, lift)
        if duty is not None and duty.flow < 0.999 * together * pump.flows[-1]:
            name = f"{pump.name} on {laid.hose.name}"
            mains.append(Main(name=name, pump=pump, laid=laid, lift=lift, together=together, speed=1.0, duty=duty))
    return mains


@pytest.mark.parametrize("together", [1, 2])
@pytest.mark.parametrize("name", NAMES)
def test_duty_of_every_pair_against_the_pipe_engine(name: str, together: int, tmp_path: Path) -> None:
    mains = _flat_out(example(name), together)
    assert len(mains) >= 6
    theirs = engine_flows(mains, tmp_path)
    assert {main.name: main.duty.flow for main in mains} == pytest.approx(theirs, rel=5e-3)


@pytest.mark.parametrize("name", NAMES)
def test_slowed_pump_gives_its_named_flow_by_the_pipe_engine(name: str, tmp_path: Path) -> None:
    """The pump at the speed we tell, in the engine, gives the flow that was named."""
    job = example(name)
    factor_free = replace(
        job, route=replace(job.route, chosen=_smooth_factor(job.route.chosen), offered=(job.route.chosen,))
    )
    chosen = design(factor_free).supply.chosen
    laid = lay(chosen.hose, job.route, water_viscosity(job.water_temperature))
    mains = [
        Main(
            name=flow.name,
            pump=chosen.pump,
            laid=laid,
            lift=flow.lift,
            together=chosen.together,
            speed=flow.duty.speed,
            duty=flow.duty,
        )
        for flow in chosen.flows
        if flow.duty is not None
    ]
    assert mains
    # Head lies almost level near its shut end there, so a flow is told to 1 %.
    assert {main.name: main.duty.flow for main in mains} == pytest.approx(engine_flows(mains, tmp_path), rel=1e-2)


class TestPublishedSystem:
    """Reference checks P15 to P20: 1.8 m of lift, 25 m of 55.4 mm, roughness 0.01 mm, K 5, 1.004e-6 m2/s."""

    pump = Pump(
        name="reference",
        flows=np.array([0, 2, 4, 6, 8, 10, 12]) / 3600,
        heads=np.array([6.0, 5.6, 5.0, 4.2, 3.1, 1.7, 0.2]),
        watts=np.full(7, 100.0),
        slowest=0.0,
    )
    laid = LaidHose(
        hose=Hose(name="63", bore=0.0554, roughness=1e-5, wall="smooth", loss_factor=1.0, price_per_length=None),
        length=25.0,
        fittings=5.0,
        viscosity=1.004e-6,
    )

    def duty(self, *, together: int = 1, speed: float = 1.0) -> Duty:
        slowed = replace(self.pump, flows=self.pump.flows * speed, heads=self.pump.heads * speed**2)
        duty = duty_of(curve_of(slowed), together, self.laid, 1.8)
        assert duty is not None
        return duty

    def test_duty(self) -> None:
        """P16: 8.777 m3/h by the pipe engine. P15: 8.810 m3/h, 2.562 m, 1.015 m/s, Re 56 019 by a curve through the
        points instead of straight lines."""
        duty = self.duty()
        assert duty.flow * 3600 == pytest.approx(8.777, rel=5e-3)
        assert duty.flow * 3600 == pytest.approx(8.810, rel=5e-3)
        assert duty.head == pytest.approx(2.5618, rel=5e-3)
        assert duty.losses.velocity == pytest.approx(1.0152, rel=5e-3)
        assert duty.losses.reynolds == pytest.approx(56019, rel=5e-3)

    def test_held_back_by_a_valve(self) -> None:
        """P17: at 5 m3/h the pump gives 4.6 m, the hose wants 2.0654 m, the valve takes 2.5346 m."""
        losses: Losses = self.laid.losses_at(5 / 3600)
        wanted = 1.8 + losses.along + losses.fittings
        assert curve_of(self.pump).head(5 / 3600) == pytest.approx(4.6, rel=1e-9)
        assert wanted == pytest.approx(2.0654, rel=2e-3)
        assert (4.6 - wanted) * 2 * 9.80665 / losses.velocity**2 == pytest.approx(149.743, rel=2e-3)

    def test_four_fifths_of_full_speed(self) -> None:
        """P19: 5.978 m3/h; the pipe engine agrees."""
        duty = self.duty(speed=0.8)
        assert duty.flow * 3600 == pytest.approx(5.978, rel=3e-3)
        assert speed_for(curve_of(self.pump), duty.flow, duty.head) == pytest.approx(0.8, rel=1e-6)

    def test_two_together(self) -> None:
        """P20: 14.059 m3/h, 1.602 times one pump's; the pipe engine agrees."""
        both = self.duty(together=2)
        assert both.flow * 3600 == pytest.approx(14.059, rel=3e-3)
        assert both.flow / self.duty().flow == pytest.approx(1.6019, rel=5e-3)


@value
class Slope:
    """A bare run of 30 m: Manning's n, slope, width and flow (m3/s)."""

    n: float
    slope: float
    width: float
    flow: float


SLOPES = (
    Slope(n=0.06, slope=0.05, width=0.6, flow=0.003),
    Slope(n=0.06, slope=0.05, width=0.6, flow=0.001),
    Slope(n=0.03, slope=0.02, width=0.45, flow=0.0015),
    Slope(n=0.10, slope=0.15, width=1.2, flow=0.010),
    Slope(n=0.015, slope=0.01, width=0.3, flow=0.0007),
)

LIPS: tuple[tuple[LipKind, float, float, float], ...] = (
    ("sharp edge", 1.83, 0.55, 0.0025),
    ("flat slab", 1.45, 0.60, 0.003),
    ("round edge", 1.60, 0.60, 0.00125),
    ("boulders", 1.44, 1.20, 0.010),
)
"""Kind of lip, coefficient (Brater & King 1996; Zachoval et al. 2014), width and flow."""


PIECES, LONG = 20, 1.5
"""The engine's run: twenty pieces of 1.5 m."""


def routed_depths(folder: Path) -> tuple[list[float], list[float]]:
    """Depth in the middle of every slope, and in the pool behind every lip, by the routing engine, m."""
    file = folder / "run.inp"
    file.write_text(_routing_input())
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from pyswmm import Nodes, Simulation

        with Simulation(str(file)) as run:
            run.step_advance(120)
            for _ in run:
                nodes = Nodes(run)
                slopes = [float(nodes[f"S{number}N{PIECES // 2}"].depth) for number in range(len(SLOPES))]
                pools = [float(nodes[f"L{number}"].depth) for number in range(len(LIPS))]
    return slopes, pools


def _routing_input() -> str:
    """All slopes and lips in one network of its own input language; flows in L/s, lengths in m."""
    parts: dict[str, list[str]] = {
        name: [] for name in ("JUNCTIONS", "OUTFALLS", "STORAGE", "CONDUITS", "WEIRS", "XSECTIONS", "INFLOWS")
    }
    for number, slope in enumerate(SLOPES):
        # The engine is told the length along the bed and slopes by the tangent, we by the sine: 0.3 % of depth at 15 %.
        drop = LONG * slope.slope / (1 + slope.slope**2) ** 0.5
        for piece in range(PIECES + 1):
            name, level = f"S{number}N{piece}", 100 - piece * drop
            if piece == PIECES:
                parts["OUTFALLS"].append(f"{name} {level:.6f} NORMAL NO")
                continue
            parts["JUNCTIONS"].append(f"{name} {level:.6f} 1 0 0 0")
            link = f"S{number}C{piece}"
            parts["CONDUITS"].append(f"{link} {name} S{number}N{piece + 1} {LONG} {slope.n} 0 0 0 0")
            parts["XSECTIONS"].append(f"{link} RECT_OPEN 1 {slope.width} 0 0 1")
        parts["INFLOWS"].append(f'S{number}N0 FLOW "" FLOW 1.0 1.0 {slope.flow * 1000}')
    for number, (_, coefficient, width, flow) in enumerate(LIPS):
        parts["STORAGE"].append(f"L{number} 100 1 0.05 FUNCTIONAL 0 0 1 0 0")
        parts["OUTFALLS"].append(f"L{number}OUT 99 FREE NO")
        parts["WEIRS"].append(f"L{number}W L{number} L{number}OUT TRANSVERSE 0.05 {coefficient} NO 0 0 NO")
        parts["XSECTIONS"].append(f"L{number}W RECT_OPEN 0.5 {width} 0 0")
        parts["INFLOWS"].append(f'L{number} FLOW "" FLOW 1.0 1.0 {flow * 1000}')
    options = {
        "FLOW_UNITS": "LPS",
        "FLOW_ROUTING": "DYNWAVE",
        "LINK_OFFSETS": "DEPTH",
        "START_DATE": "01/01/2026",
        "END_DATE": "01/01/2026",
        "START_TIME": "00:00:00",
        "END_TIME": "00:10:00",
        "REPORT_STEP": "00:01:00",
        "ROUTING_STEP": "0.1",
        "VARIABLE_STEP": "0",
        "MIN_SURFAREA": "0.001",
        "INERTIAL_DAMPING": "NONE",
        "NORMAL_FLOW_LIMITED": "BOTH",
        "MAX_TRIALS": "20",
        "HEAD_TOLERANCE": "0.00001",
    }
    parts = {"OPTIONS": [f"{key} {held}" for key, held in options.items()], **parts}
    return "\n\n".join("\n".join([f"[{name}]", *rows]) for name, rows in parts.items()) + "\n"


@pytest.fixture(scope="module")
def routed(tmp_path_factory: pytest.TempPathFactory) -> tuple[list[float], list[float]]:
    return routed_depths(tmp_path_factory.mktemp("routing"))


def _bare_job(slope: Slope) -> Job:
    bed = BedMakeUp(
        name="bare", depth=0.0, size=(0.02, 0.04), voids=0.4, retained=0.0, laid="bedded flat", manning=slope.n
    )
    run = Run(name="run", length=30.0, fall=30 * slope.slope, width=slope.width, bed=bed, sills=())
    job = example("hazel_bank")
    course = replace(job.course, reaches=(run,), side_slope=0.0, edges=())
    return replace(job, course=course, flows=(NamedFlow(name="one", flow=slope.flow),))


@pytest.mark.parametrize("number", range(len(SLOPES)))
def test_depth_of_a_bare_run_against_the_routing_engine(number: int, routed: tuple[list[float], list[float]]) -> None:
    """n 0.06, 5 %, 0.6 m, 3 L/s stand 19.38 mm deep by both (computed before by the same engine, too)."""
    job = _bare_job(SLOPES[number])
    course = set_out_course(job.course, job.source, job.layers, build_ground(job.survey))
    water = run_water(course, job.source, job.flows, job.water_temperature)
    middle = water.depth[MIDDLE, 0, water.depth.shape[2] // 2]
    assert middle == pytest.approx(routed[0][number], rel=5e-3)
    if number == 0:
        assert middle == pytest.approx(0.01938, rel=1e-3)


@pytest.mark.parametrize("number", range(len(LIPS)))
def test_head_on_a_lip_against_the_routing_engine(number: int, routed: tuple[list[float], list[float]]) -> None:
    """The engine's head is the effective one: ours and the 1 mm of Kindsvater and Carter. Its crest stands 50 mm up."""
    kind, _, width, flow = LIPS[number]
    ours = heads_over(kind, np.array([flow / width]))[MIDDLE, 0]
    assert ours + 0.001 == pytest.approx(routed[1][number] - 0.05, rel=5e-3)


def test_a_step_of_a_job_takes_the_same_head(routed: tuple[list[float], list[float]]) -> None:
    """The lip of a whole course, not the law by itself: flat slab, 0.60 m, 3 L/s."""
    job = _bare_job(SLOPES[0])
    step = Step(name="lip", drop=0.2, lip_width=0.60, lip="flat slab")
    course = set_out_course(
        replace(job.course, reaches=(*job.course.reaches, step)), job.source, job.layers, build_ground(job.survey)
    )
    lip = run_water(course, job.source, job.flows, job.water_temperature).lips[1]
    assert lip.head[MIDDLE, 0] + 0.001 == pytest.approx(routed[1][1] - 0.05, rel=5e-3)


@pytest.mark.parametrize("name", ["fennymoor_park", "hazel_bank", "withy_lane"])
def test_water_between_the_stones_against_ergun(name: str) -> None:
    """Driven through the layer at our velocity, ``fluids`` loses the pressure that the slope gives."""
    job = example(name)
    viscosity = water_viscosity(job.water_temperature)
    for run in design(job).water.runs:
        lost = Ergun(
            dp=run.law.grain50,
            voidage=run.run.bed.voids,
            vs=float(run.through[LOW]),
            rho=1000.0,
            mu=1000.0 * viscosity,
            L=1.0,
        )
        assert lost == pytest.approx(1000.0 * 9.80665 * run.gradient, rel=1e-6)


BOTTOM, SIDES, GRADIENT, D50, D84 = 0.111, 2.1816, 0.02317, 0.005325, 0.012692

FLUME = [
    # flow m3/s, mean of five probes m
    (0.00551, 0.04011),
    (0.006238, 0.04146),
    (0.006887, 0.04403),
    (0.006908, 0.04395),
    (0.00799, 0.0467),
    (0.00813, 0.04772),
    (0.008799, 0.0488),
    (0.009916, 0.05246),
    (0.010218, 0.05269),
]


def _flume_depth(flow: float, manning: float) -> float:
    one = np.ones(1)
    channel = Channel(
        width=BOTTOM * one,
        side_slope=SIDES,
        gradient=GRADIENT * one,
        manning=manning * one,
        grain84=D84 * one,
    )
    return float(normal_depth(channel, np.array([flow]))[0])


@pytest.mark.parametrize(("flow", "measured"), FLUME)
def test_flat_bed_of_the_flume_is_stricklers(flow: float, measured: float) -> None:
    """1.03 times the measured depth in the mean over 52 runs."""
    assert _flume_depth(flow, strickler_n(D50)) == pytest.approx(measured, rel=0.06)


@pytest.mark.parametrize(("flow", "measured"), FLUME)
def test_variable_power_law_is_deeper_on_a_flat_bed(flow: float, measured: float) -> None:
    """1.35 times the measured depth in the mean over 52 runs: it is the law of protruding stones."""
    assert 1.2 < _flume_depth(flow, 0.0) / measured < 1.5
