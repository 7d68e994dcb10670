"""Rossman, L. A. et al. (2020). EPANET 2.2 User Manual. US EPA, EPA/600/R-20/133, and the engine itself.

Provenance: table 3.3 stored; friction and the duty point computed by the engine, run here through ``wntr``. Its
viscosity is 1.022e-6 m2/s (1.1e-5 square feet a second) and its gravity 32.2 ft/s2, so its losses are scaled by 1.0008.
"""

import warnings
from math import pi
from pathlib import Path

import pytest
from scipy.optimize import brentq

from beckwright.equations.pipe import (
    fittings_loss,
    friction_loss,
    laminar_friction,
    pipe_velocity,
    reynolds_number,
    swamee_jain_friction,
    transition_friction,
)
from beckwright.equations.pump import between_rows, total_head
from beckwright.tables.fittings import FITTINGS

VISCOSITY = 1.1e-5 * 0.3048**2
GRAVITY_RATIO = 32.2 * 0.3048 / 9.80665
BORE, LENGTH, ROUGHNESS = 0.0554, 2000.0, 5e-5
REYNOLDS = (1000, 1900, 2100, 2500, 3000, 3500, 3900, 4100, 10_000, 60_000)


@pytest.fixture(scope="module")
def engine_losses(tmp_path_factory: pytest.TempPathFactory) -> dict[float, float]:
    """Head lost in one long pipe at each Reynolds number, by the engine."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import wntr

        network = wntr.network.WaterNetworkModel()
        network.options.hydraulic.headloss = "D-W"
        network.options.hydraulic.inpfile_units = "LPS"
        network.options.hydraulic.accuracy = 1e-8
        network.options.time.duration = 0
        network.add_reservoir("head", base_head=50.0)
        for reynolds in REYNOLDS:
            flow = reynolds * VISCOSITY * pi * BORE / 4
            network.add_junction(f"end{reynolds}", base_demand=flow)
            network.add_pipe(f"pipe{reynolds}", "head", f"end{reynolds}", LENGTH, BORE, roughness=ROUGHNESS)
        prefix: Path = tmp_path_factory.mktemp("engine") / "run"
        heads = wntr.sim.EpanetSimulator(network).run_sim(file_prefix=str(prefix)).node["head"].iloc[0]
    return {reynolds: 50.0 - float(heads[f"end{reynolds}"]) for reynolds in REYNOLDS}


def _friction(reynolds: float) -> float:
    if reynolds < 2000:
        return laminar_friction(reynolds)
    if reynolds < 4000:
        return transition_friction(reynolds, ROUGHNESS / BORE)
    return swamee_jain_friction(reynolds, ROUGHNESS / BORE)


@pytest.mark.parametrize("reynolds", REYNOLDS)
def test_friction_against_the_engine(reynolds: float, engine_losses: dict[float, float]) -> None:
    velocity = pipe_velocity(reynolds * VISCOSITY * pi * BORE / 4, BORE)
    assert reynolds_number(velocity, BORE, VISCOSITY) == pytest.approx(reynolds, rel=1e-12)
    ours = friction_loss(_friction(reynolds), LENGTH, BORE, velocity)
    assert ours == pytest.approx(engine_losses[reynolds] * GRAVITY_RATIO, rel=1e-4)


def test_duty_point_of_the_engine() -> None:
    """A pump tabled every 2 m3/h against 1.8 m of lift and 25 m of 55.4 mm pipe, K 5: the engine says 8.777 m3/h."""

    def spare(flow: float) -> float:
        velocity = pipe_velocity(flow / 3600, BORE)
        friction = swamee_jain_friction(reynolds_number(velocity, BORE, VISCOSITY), 1e-5 / BORE)
        wanted = total_head(1.8, friction_loss(friction, 25, BORE, velocity), fittings_loss(5, velocity))
        return between_rows(flow, 8, 10, 3.1, 1.7) - wanted

    assert brentq(spare, 8, 10) == pytest.approx(8.777, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "printed"),
    [
        ("globe valve", 10.0),
        ("angle valve", 5.0),
        ("check valve", 2.5),
        ("gate valve", 0.2),
        ("bend 90 short", 0.9),
        ("bend 90 medium", 0.8),
        ("bend 90 long", 0.6),
        ("bend 45", 0.4),
        ("return bend", 2.2),
        ("tee run", 0.6),
        ("tee branch", 1.8),
        ("entrance", 0.5),
        ("exit", 1.0),
    ],
)
def test_table_3_3(name: str, printed: float) -> None:
    assert FITTINGS[name].amount == printed
