"""A hose on its route: the head it takes from the pump at a flow."""

from beckwright.base.quantities import Flow, Length, Ratio, Velocity, Viscosity
from beckwright.base.values import value
from beckwright.equations.pipe import (
    fittings_loss,
    friction_loss,
    laminar_friction,
    pipe_velocity,
    reynolds_number,
    swamee_jain_friction,
    transition_friction,
)
from beckwright.job.model import Hose, HoseRoute
from beckwright.tables.fittings import FITTINGS
from beckwright.tables.hoses import CORRUGATED_FRICTION


@value
class Losses:
    """Head lost at one flow in one hose."""

    flow: Flow
    velocity: Velocity
    reynolds: Ratio
    friction: Ratio
    along: Length
    fittings: Length


@value
class LaidHose:
    """A hose on its route, full of water of one viscosity. ``fittings`` is the sum of their loss factors."""

    hose: Hose
    length: Length
    fittings: Ratio
    viscosity: Viscosity

    def losses_at(self, flow: Flow) -> Losses:
        """Head lost along the hose and in its fittings at a flow above 0."""
        velocity = pipe_velocity(flow, self.hose.bore)
        reynolds = reynolds_number(velocity, self.hose.bore, self.viscosity)
        friction = friction_of(reynolds, self.hose)
        return Losses(
            flow=flow,
            velocity=velocity,
            reynolds=reynolds,
            friction=friction,
            along=self.hose.loss_factor * friction_loss(friction, self.length, self.hose.bore, velocity),
            fittings=fittings_loss(self.fittings, velocity),
        )

    def head_lost(self, flow: Flow) -> Length:
        """All of it together, for a search that asks many times."""
        velocity = pipe_velocity(flow, self.hose.bore)
        friction = friction_of(reynolds_number(velocity, self.hose.bore, self.viscosity), self.hose)
        along = self.hose.loss_factor * friction_loss(friction, self.length, self.hose.bore, velocity)
        return along + fittings_loss(self.fittings, velocity)


def lay(hose: Hose, route: HoseRoute, viscosity: Viscosity) -> LaidHose:
    """Lay a hose on the route."""
    return LaidHose(hose=hose, length=route.length, fittings=loss_sum(route), viscosity=viscosity)


def friction_of(reynolds: Ratio, hose: Hose) -> Ratio:
    """Friction factor by the law that holds for this wall at this Reynolds number."""
    if hose.wall == "corrugated":
        return CORRUGATED_FRICTION.amount
    if reynolds < 2000:
        return laminar_friction(reynolds)
    law = transition_friction if reynolds < 4000 else swamee_jain_friction
    return law(reynolds, hose.roughness / hose.bore)


def loss_sum(route: HoseRoute) -> Ratio:
    """Loss factors of all fittings on the route."""
    return sum(FITTINGS[name].amount * count for name, count in route.fittings)
