"""The first visit: five answers in, honest ranges and a first sketch of a job out."""

from beckwright.visit.ask import visit_of
from beckwright.visit.estimate import estimate
from beckwright.visit.job import job_text
from beckwright.visit.placed import Pegs, pegs_on, placed_text
from beckwright.visit.values import PRICE_NAMES, Prices, Range, Unknown, Visit, VisitAnswers

__all__ = [
    "PRICE_NAMES",
    "Pegs",
    "Prices",
    "Range",
    "Unknown",
    "Visit",
    "VisitAnswers",
    "estimate",
    "job_text",
    "pegs_on",
    "placed_text",
    "visit_of",
]
