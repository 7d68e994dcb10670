"""The section of job.toml about money: tax, risk, and what a pump and a hose are compared over."""

from beckwright.job.model.money import GroundKnown, Group
from beckwright.job.written.fields import Name, Section, number, told
from beckwright.tables.money import INTEREST, LIFE_YEARS, PRICE_RISE, PUMP_LIFE


class MoneyWritten(Section):
    """How the sums are made. Prices stand in prices.csv, what was quoted in quote.csv."""

    tax_percent: float | None = number("tax on what is sold; left out, nothing is added", "%", 0, 100, default=None)
    tax_name: Name = told("what that tax is called", default="tax")
    prices_include_tax: bool | None = told("whether the tax is in prices whose row does not say", default=None)
    ground: GroundKnown = told("whether trial holes have shown the ground", default="unknown")
    contingency_percent: float | None = number(
        "your own contingency on the risky groups; left out, the trade's for this ground", "%", 0, 100, default=None
    )
    risky_groups: list[Group] = told(
        "groups that the ground and the stone can change; contingency is on these",
        default=["ground work", "stone", "labour and hire"],
        max_length=9,
    )
    years: int = number("years a pump and a hose are compared over", "years", 1, 50, default=int(LIFE_YEARS.amount))
    interest_percent: float = number(
        "what money not spent would earn a year", "%", 0, 30, default=INTEREST.amount * 100
    )
    rise_percent: float = number(
        "rise of prices a year, energy and pumps alike", "%", -10, 30, default=PRICE_RISE.amount * 100
    )
    pump_life_years: int = number("years until a pump is replaced", "years", 1, 50, default=int(PUMP_LIFE.amount))
    budget: float | None = number("what may be spent on building it, tax included", "currency", 0, 1e8, default=None)
    seed: int = number("number that makes the tries come out the same", "1", 0, 2**31, default=1)
