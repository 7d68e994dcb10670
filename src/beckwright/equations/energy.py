"""What running costs: power over time, energy at a price."""

from beckwright.base.published import published
from beckwright.base.quantities import Duration, Energy, Money, MoneyPerEnergy, Power


@published(source="definition", place="work is power over time")
def energy_used(power: Power, time: Duration) -> Energy:
    """Energy drawn from the wall.

    ``E = P t``

    power  P  drawn from the wall
    time   t  run at that power
    """
    return power * time


@published(source="definition", place="energy at its price")
def energy_cost(energy: Energy, price: MoneyPerEnergy) -> Money:
    """Cost of the energy, without standing charges.

    ``M = p E``

    energy  E  drawn from the wall
    price   p  of one unit of energy
    """
    return price * energy
