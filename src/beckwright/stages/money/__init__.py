"""Money: what building it costs and how sure that is, what changed since the quote, what running it costs."""

from beckwright.stages.money.estimate import price
from beckwright.stages.money.keep import as_quote
from beckwright.stages.money.labour import labour_items
from beckwright.stages.money.life import whole_life, worth_of
from beckwright.stages.money.quote import compare_with_quote
from beckwright.stages.money.running import running_cost
from beckwright.stages.money.values import (
    Chance,
    CostCurve,
    Estimate,
    GroupSum,
    HoseYear,
    LifeCost,
    Line,
    Payback,
    RunningCost,
    Variation,
    Variations,
)

__all__ = [
    "Chance",
    "CostCurve",
    "Estimate",
    "GroupSum",
    "HoseYear",
    "LifeCost",
    "Line",
    "Payback",
    "RunningCost",
    "Variation",
    "Variations",
    "as_quote",
    "compare_with_quote",
    "labour_items",
    "price",
    "running_cost",
    "whole_life",
    "worth_of",
]
