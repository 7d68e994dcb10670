"""Money, from as written to the job's terms."""

from beckwright.job.model import MoneyTerms
from beckwright.job.units import PERCENT
from beckwright.job.written import Written


def money_from(written: Written) -> MoneyTerms:
    """Tax, risk, years and rates."""
    given = written.money
    return MoneyTerms(
        tax=_share(given.tax_percent),
        tax_name=given.tax_name,
        prices_include_tax=given.prices_include_tax,
        ground=given.ground,
        contingency=_share(given.contingency_percent),
        risky=tuple(dict.fromkeys(given.risky_groups)),
        years=given.years,
        interest=given.interest_percent * PERCENT,
        rise=given.rise_percent * PERCENT,
        pump_life=given.pump_life_years,
        budget=given.budget,
        seed=given.seed,
    )


def _share(percent: float | None) -> float | None:
    return None if percent is None else percent * PERCENT
