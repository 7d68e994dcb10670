"""Laws that hold whatever the numbers: more makes more, there and back is the same place, pieces meet."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.base.published import Equation
from beckwright.equations import lips, open_channel, pipe, pump, reservoir, resistance, stone, stone_layer, water

flows = st.floats(1e-4, 0.05)
depths = st.floats(1e-3, 0.5)
widths = st.floats(0.1, 2)
slopes = st.floats(0.005, 0.5)
sizes = st.floats(0.005, 0.1)
voids = st.floats(0.25, 0.95)
shares = st.floats(0.01, 0.99)
factors = st.floats(1.01, 3)
coefficients = st.floats(1.4, 1.85)
viscosities = st.floats(0.6e-6, 1.8e-6)
roughnesses = st.floats(1e-6, 1e-2)

RISING: list[tuple[Equation, str, dict[str, Any]]] = [
    (lips.lip_head, "unit_flow", {"unit_flow": flows, "coefficient": coefficients}),
    (lips.lip_unit_flow, "head", {"head": depths, "coefficient": coefficients}),
    (lips.drowned_share, "head", {"head": st.floats(0.11, 0.5), "tailwater": st.floats(1e-3, 0.1)}),
    (open_channel.critical_depth, "unit_flow", {"unit_flow": flows}),
    (open_channel.wetted_area, "depth", {"width": widths, "depth": depths, "side_slope": slopes}),
    (open_channel.wetted_perimeter, "depth", {"width": widths, "depth": depths, "side_slope": slopes}),
    (open_channel.manning_velocity, "slope", {"manning_n": shares, "hydraulic_radius": depths, "slope": slopes}),
    (resistance.variable_power_ratio, "relative_depth", {"relative_depth": st.floats(0.05, 100)}),
    (resistance.strickler_n, "median_size", {"median_size": sizes}),
    (resistance.rice_riprap_n, "slope", {"median_size": sizes, "slope": slopes}),
    (
        stone_layer.ergun_velocity,
        "gradient",
        {"size": sizes, "voids": voids, "gradient": slopes, "viscosity": viscosities},
    ),
    (stone_layer.ergun_velocity, "size", {"size": sizes, "voids": voids, "gradient": slopes, "viscosity": viscosities}),
    (
        stone_layer.rough_grain_velocity,
        "voids",
        {"size": sizes, "voids": st.floats(0.25, 0.32), "gradient": slopes, "viscosity": viscosities},
    ),
    (
        pipe.friction_loss,
        "velocity",
        {"friction": shares, "length": widths, "bore": depths, "velocity": st.floats(0.01, 3)},
    ),
    (pump.head_at_speed, "speed", {"head": widths, "speed": shares}),
    (reservoir.uplift_use, "uplift", {"uplift": st.floats(1, 1e5), "weight": st.floats(1, 1e5)}),
]

FALLING: list[tuple[Equation, str, dict[str, Any]]] = [
    (lips.lip_head, "coefficient", {"unit_flow": flows, "coefficient": coefficients}),
    (lips.drowned_share, "tailwater", {"head": st.floats(0.4, 0.9), "tailwater": st.floats(1e-3, 0.1)}),
    (pipe.laminar_friction, "reynolds", {"reynolds": st.floats(1, 2000)}),
    (pipe.swamee_jain_friction, "reynolds", {"reynolds": st.floats(4e3, 1e7), "relative_roughness": roughnesses}),
    (
        stone_layer.ergun_velocity,
        "viscosity",
        {"size": sizes, "voids": voids, "gradient": slopes, "viscosity": viscosities},
    ),
    (
        reservoir.spread_pressure,
        "cover",
        {"force": st.floats(1, 1e5), "contact_length": depths, "contact_width": depths, "cover": widths},
    ),
    (stone.bulk_density, "voids", {"density": st.floats(2000, 3000), "voids": st.floats(0.05, 0.3)}),
    (water.water_viscosity, "temperature", {"temperature": st.floats(0.1, 30)}),
]


def _ids(law: tuple[Equation, str, dict[str, Any]]) -> str:
    return f"{law[0].name}-{law[1]}"


@pytest.mark.parametrize("law", RISING, ids=_ids)
@given(data=st.data(), factor=factors)
def test_more_makes_more(law: tuple[Equation, str, dict[str, Any]], data: st.DataObject, factor: float) -> None:
    equation, name, ranges = law
    inputs = {key: data.draw(drawn, key) for key, drawn in ranges.items()}
    assert equation(**{**inputs, name: inputs[name] * factor}) > equation(**inputs)


@pytest.mark.parametrize("law", FALLING, ids=_ids)
@given(data=st.data(), factor=factors)
def test_more_makes_less(law: tuple[Equation, str, dict[str, Any]], data: st.DataObject, factor: float) -> None:
    equation, name, ranges = law
    inputs = {key: data.draw(drawn, key) for key, drawn in ranges.items()}
    assert equation(**{**inputs, name: inputs[name] * factor}) < equation(**inputs)


@given(flow=flows, coefficient=coefficients)
def test_lip_there_and_back(flow: float, coefficient: float) -> None:
    assert lips.lip_unit_flow(lips.lip_head(flow, coefficient), coefficient) == pytest.approx(flow, rel=1e-9)


@given(head=depths)
def test_a_lip_is_free_to_its_crest_and_still_under_level_water(head: float) -> None:
    assert lips.drowned_share(head, 0.0) == 1
    assert lips.drowned_share(head, head) == 0


@given(flow=flows)
def test_critical_flow_has_froude_one_and_the_least_energy(flow: float) -> None:
    depth = open_channel.critical_depth(flow)
    assert open_channel.froude_number(flow / depth, depth) == pytest.approx(1, rel=1e-9)
    least = open_channel.specific_energy(depth, flow / depth)
    assert least == pytest.approx(1.5 * depth, rel=1e-9)
    for other in (0.9 * depth, 1.1 * depth):
        assert open_channel.specific_energy(other, flow / other) > least


@given(n=st.floats(0.01, 0.2), radius=depths, slope=slopes)
def test_two_ways_to_a_manning_velocity(n: float, radius: float, slope: float) -> None:
    by_ratio = open_channel.velocity_by_ratio(open_channel.manning_ratio(n, radius), radius, slope)
    assert by_ratio == pytest.approx(open_channel.manning_velocity(n, radius, slope), rel=1e-9)


@given(width=widths, depth=depths, side_slope=st.floats(0, 3))
def test_area_grows_by_the_surface_width(width: float, depth: float, side_slope: float) -> None:
    step = 1e-6
    grown = open_channel.wetted_area(width, depth + step, side_slope) - open_channel.wetted_area(
        width, depth, side_slope
    )
    assert grown / step == pytest.approx(open_channel.surface_width(width, depth, side_slope), rel=1e-4)


@given(roughness=roughnesses)
def test_friction_is_continuous(roughness: float) -> None:
    assert pipe.transition_friction(2000, roughness) == pytest.approx(pipe.laminar_friction(2000), rel=1e-9)
    turbulent = pipe.swamee_jain_friction(4000, roughness)
    assert pipe.transition_friction(4000, roughness) == pytest.approx(turbulent, rel=1e-9)


@given(reynolds=st.floats(2000, 3960), roughness=roughnesses)
def test_loss_rises_through_the_transition(reynolds: float, roughness: float) -> None:
    """Friction may rise or fall there; loss, which goes as f Re**2, must rise or the pump has two duties."""
    more = reynolds * 1.01
    loss = pipe.transition_friction(reynolds, roughness) * reynolds**2
    assert pipe.transition_friction(more, roughness) * more**2 > loss


BED_LAWS: list[tuple[Callable[..., float], float, float]] = [
    (stone_layer.ergun_velocity, 150, 1.75),
    (stone_layer.rough_grain_velocity, 180, 4.0),
]


@pytest.mark.parametrize("law", BED_LAWS, ids=["ergun", "rough grains"])
@given(size=sizes, void=voids, gradient=st.floats(1e-4, 0.5), viscosity=viscosities)
def test_velocity_gives_back_its_gradient(
    law: tuple[Callable[..., float], float, float], size: float, void: float, gradient: float, viscosity: float
) -> None:
    solved, viscous, inertial = law
    velocity = solved(size, void, gradient, viscosity)
    pore = 9.80665 * void**3 * size
    linear = viscous * viscosity * (1 - void) ** 2 / (pore * size) * velocity
    assert linear + inertial * (1 - void) / pore * velocity**2 == pytest.approx(gradient, rel=1e-9)


@given(size=sizes, void=voids, gradient=slopes, viscosity=viscosities)
def test_rough_grains_hold_water_back(size: float, void: float, gradient: float, viscosity: float) -> None:
    rough = stone_layer.rough_grain_velocity(size, void, gradient, viscosity)
    assert rough < stone_layer.ergun_velocity(size, void, gradient, viscosity)


def test_a_level_layer_does_not_flow() -> None:
    assert stone_layer.ergun_velocity(0.02, 0.4, 0.0, 1e-6) == 0


@given(plan=widths, depth=depths, void=voids)
def test_store_and_level_undo_each_other(plan: float, depth: float, void: float) -> None:
    assert reservoir.level_change(reservoir.stored_water(plan, depth, void), plan, void) == pytest.approx(
        depth, rel=1e-9
    )


@given(flow=flows, head=widths, speed=shares)
def test_water_power_goes_with_the_cube_of_speed(flow: float, head: float, speed: float) -> None:
    slowed = pump.hydraulic_power(pump.flow_at_speed(flow, speed), pump.head_at_speed(head, speed))
    assert slowed == pytest.approx(pump.power_at_speed(pump.hydraulic_power(flow, head), speed), rel=1e-9)


@given(share=st.floats(0, 1), lower=st.floats(-5, 5), step=st.floats(0.1, 5))
def test_between_rows_stays_between_them(share: float, lower: float, step: float) -> None:
    read = pump.between_rows(share, 0, 1, lower, lower + step)
    assert lower - 1e-9 <= read <= lower + step + 1e-9


@given(bore=st.floats(0.01, 0.2), flow=flows, length=widths)
def test_a_pipe_empties_in_its_volume_over_its_flow(bore: float, flow: float, length: float) -> None:
    time = pipe.pipe_volume(bore, length) / flow
    assert pipe.pipe_velocity(flow, bore) * time == pytest.approx(length, rel=1e-9)


def test_over_arrays_is_the_same_as_one_by_one() -> None:
    heads = np.array([0.005, 0.02, 0.1])
    together = lips.lip_unit_flow.over(heads, 1.6)
    assert together == pytest.approx([lips.lip_unit_flow(head, 1.6) for head in heads], rel=1e-12)
    grid = stone_layer.ergun_velocity.over(np.array([[0.01], [0.02]]), 0.4, np.array([0.02, 0.1, 0.4]), 1e-6)
    assert grid.shape == (2, 3)
    assert grid[1, 2] == pytest.approx(stone_layer.ergun_velocity(0.02, 0.4, 0.4, 1e-6), rel=1e-12)


def test_outside_names_what_was_never_tested() -> None:
    assert resistance.rice_riprap_n.outside(median_size=0.02, slope=0.1) == ("median_size",)
    assert resistance.variable_power_ratio.outside(relative_depth=0.05) == ("relative_depth",)
    assert resistance.variable_power_ratio.outside(relative_depth=1.0) == ()
