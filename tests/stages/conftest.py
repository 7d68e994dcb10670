"""A plain invented job whose every level can be worked in the head, and the jobs of the examples."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from beckwright.compose import Design, design
from beckwright.job.model import BedMakeUp, Course, Hose, Job, NamedFlow, Pump, Run, Running
from beckwright.job.read import read_job

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="session")
def hazel() -> Job:
    """Hazel Bank: runs, steps, pools, three trees, crates."""
    return read_job(EXAMPLES / "hazel_bank")


@pytest.fixture(scope="session")
def withy() -> Job:
    """Withy Lane: edges shot on site, a reservoir too small."""
    return read_job(EXAMPLES / "withy_lane")


@pytest.fixture(scope="session")
def hazel_design(hazel: Job) -> Design:
    """Hazel Bank designed."""
    return design(hazel)


@pytest.fixture(scope="session")
def bare() -> BedMakeUp:
    """A bed without stones and with a roughness of its own."""
    return BedMakeUp(
        name="bare", depth=0.0, size=(0.02, 0.04), voids=0.4, retained=0.05, laid="bedded flat", manning=0.03
    )


@pytest.fixture(scope="session")
def pebbles(bare: BedMakeUp) -> BedMakeUp:
    """100 mm of loose stones, 20 to 40 mm."""
    return replace(bare, name="pebbles", depth=0.1, laid="loose", manning=None)


@pytest.fixture(scope="session")
def plain(hazel: Job, bare: BedMakeUp) -> Job:
    """One bare run, 10 m due east from (0, 0), 0.5 m of fall from 100.00, 0.6 m wide, upright sides.

    The ground is one plane that lies 0.1 m under the bed all along: 99.90 at the source, falling 1 in 20 eastwards.
    Edges stand 0.2 m over the bed; fill settles by a tenth. The pit: 2.0 by 1.5 m round (12, 0), cover at 99.30,
    0.2 m of cover with 0.4 of voids over 0.8 m of crates with 0.95; sump 0.1 m; pump stops 0.2 m over its floor.
    """
    corners = np.array([[-10.0, -10.0], [30.0, -10.0], [30.0, 10.0], [-10.0, 10.0]])
    return replace(
        hazel,
        survey=replace(
            hazel.survey, points=corners, levels=99.9 - corners[:, 0] / 20, codes=("GL",) * 4, breaklines=()
        ),
        site=replace(
            hazel.site,
            topsoil=0.0,
            trees=(),
            services=(),
            boundaries=(),
            groundwater_winter=None,
            groundwater_summer=None,
        ),
        source=replace(
            hazel.source,
            lip_level=100.0,
            lip_width=0.5,
            lip="flat slab",
            box_depth=0.3,
            box_length=0.4,
            hose_outlet=100.2,
        ),
        course=Course(
            line=np.array([[0.0, 0.0], [10.0, 0.0]]),
            reaches=(Run(name="run 1", length=10.0, fall=0.5, width=0.6, bed=bare, sills=()),),
            end=None,
            side_slope=0.0,
            edge_above_bed=0.2,
            edges=(),
            measured_edges=None,
            freeboard_wanted=0.1,
            settlement=0.1,
        ),
        layers=replace(
            hazel.layers,
            fleece_over=0.004,
            lining=0.001,
            fleece_under=0.005,
            blinding=0.06,
            lining_mass=1.2,
            edge_allowance=0.3,
        ),
        flows=(NamedFlow(name="low", flow=0.001), NamedFlow(name="high", flow=0.003)),
        reservoir=replace(
            hazel.reservoir,
            cover=99.3,
            centre=(12.0, 0.0),
            length=2.0,
            width=1.5,
            turned=0.0,
            fill="crates",
            fill_depth=0.8,
            voids=0.95,
            cover_depth=0.2,
            cover_voids=0.4,
            cover_weight=16e3,
            sump=0.1,
            pump_depth=0.2,
            overflow=99.05,
            rested=99.0,
            crate=(1.0, 0.5, 0.4),
            crate_weight=0.5e3,
            strength_vertical=None,
            strength_long_term=None,
            strength_lateral=None,
            loads=(),
        ),
        route=replace(
            hazel.route,
            length=20.0,
            fittings=(("entrance", 1), ("exit", 1)),
            line=(),
            chosen=HOSE,
            offered=(HOSE,),
        ),
        pumps=replace(hazel.pumps, chosen=PUMP, together=1, offered=(PUMP,)),
        running=(Running(flow="low", time=3.6e6, when="1000 hours"),),
        climate=None,
        prices=replace(hazel.prices, energy=0.36 / 3.6e6, running_limit=None),
        water_temperature=20.0,
        doubts=(),
    )


HOSE = Hose(name="smooth 50", bore=0.05, roughness=1e-5, wall="smooth", loss_factor=1.0, price_per_length=None)
PUMP = Pump(
    name="invented",
    flows=np.array([0.0, 0.002, 0.004]),
    heads=np.array([4.0, 3.0, 0.0]),
    watts=np.array([100.0, 140.0, 160.0]),
    slowest=0.1,
)
