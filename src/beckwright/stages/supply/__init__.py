"""Pump and hose: what each offered pair really gives, at what speed, and what a year of it costs."""

from beckwright.stages.supply.hose import LaidHose, Losses, lay, loss_sum
from beckwright.stages.supply.offers import FlowSupply, Offer, Supply, flat_out_flow, supply_water
from beckwright.stages.supply.pump import Duty, PumpCurve, curve_of, duty_of, speed_for

__all__ = [
    "Duty",
    "FlowSupply",
    "LaidHose",
    "Losses",
    "Offer",
    "PumpCurve",
    "Supply",
    "curve_of",
    "duty_of",
    "flat_out_flow",
    "lay",
    "loss_sum",
    "speed_for",
    "supply_water",
]
