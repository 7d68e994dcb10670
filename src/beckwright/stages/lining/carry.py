"""How many people it takes to carry a piece: filter values, not limits."""

import math

from beckwright.base.quantities import Mass
from beckwright.base.words import with_unit
from beckwright.equations.lining import team_carries
from beckwright.tables.lining import CARRIED, TEAM_SHARE


def people_for(mass: Mass) -> tuple[int | None, int | None]:
    """Fewest people whose filter values together reach a mass: of strong carriers, and of any; None beyond three."""
    return _people(mass, CARRIED.high), _people(mass, CARRIED.low)


def told_mass(mass: Mass) -> str:
    """A mass to be carried, up to the next kilogram."""
    return f"{with_unit(math.ceil(mass - 1e-9), 'kg'):,.0f}"


def _people(mass: Mass, each: Mass) -> int | None:
    return next((count for count, share in TEAM_SHARE.items() if team_carries(count, each, share.amount) >= mass), None)
