"""Pump and hose: what each offered pair really gives, at what speed, and what a year of it costs."""

from beckwright.stages.supply.hose import LaidHose, Losses, lay, loss_sum
from beckwright.stages.supply.items import INCH, hose_key, pump_key, supply_items
from beckwright.stages.supply.offers import (
    FlowSupply,
    Offer,
    Supply,
    flat_out_flow,
    give,
    supply_water,
    with_factor,
    year_of,
)
from beckwright.stages.supply.pump import Duty, PumpCurve, curve_of, duty_of, speed_for

__all__ = [
    "INCH",
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
    "give",
    "hose_key",
    "lay",
    "loss_sum",
    "pump_key",
    "speed_for",
    "supply_items",
    "supply_water",
    "with_factor",
    "year_of",
]
