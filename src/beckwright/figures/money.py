"""Figures of the money: groups, contingency, tax, how sure the sum is, and the chosen pair over the years."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.words import opening
from beckwright.equations.money import contingency_sum, real_rate
from beckwright.figures.make import by, told, worked
from beckwright.job.model import Job
from beckwright.stages.money import Estimate, LifeCost

CURRENCY = "currency"
_SUMS = "lines without a price are not in it"


def money_figures(job: Job, estimate: Estimate, lives: tuple[LifeCost, ...]) -> Iterator[Figure]:
    """Figures of the estimate without tax, of its total with it, and of running the chosen pair for years."""
    for group in estimate.groups:
        low, likely, high = group.cost
        yield told(
            dotted("money", "group", group.group),
            opening(group.group),
            likely,
            CURRENCY,
            ends=(low, high),
            source="prices.csv",
            note=f"amounts times prices, all low and all high; {group.missing} without a price",
        )
    yield from _totals(estimate)
    yield from _life(job, lives)


def _totals(estimate: Estimate) -> Iterator[Figure]:
    low, likely, high = estimate.works
    yield told(
        "money.works",
        "All lines",
        likely,
        CURRENCY,
        ends=(low, high),
        source="prices.csv",
        note=f"sum of groups; {_SUMS}",
    )
    own = estimate.share_from == "your own"
    came = "job: money.contingency_percent" if own else "table: CONTINGENCY"
    at_risk = ", ".join(group.group for group in estimate.groups if group.risky)
    equation, inputs = by(
        contingency_sum, share=(estimate.share, came), risky=(estimate.at_risk, f"sum of {at_risk or 'nothing'}")
    )
    yield Figure(
        name="money.contingency",
        label="Contingency",
        amount=estimate.contingency,
        low=estimate.contingency,
        high=estimate.contingency,
        unit=CURRENCY,
        grade=Grade.MEASURED if own else Grade.PRACTICE,
        source=estimate.share_from,
        equation=equation,
        inputs=inputs,
        note="on the groups at risk, not on every line",
    )
    yield told(
        "money.tax",
        opening(estimate.tax_name),
        estimate.tax_sum,
        CURRENCY,
        source="job: money.tax_percent",
        note="on lines and contingency" if estimate.tax is not None else "no tax was told",
    )
    yield told(
        "money.total",
        "Likely total",
        estimate.total,
        CURRENCY,
        source="lines, contingency, tax",
        note=_SUMS,
    )
    for name, words, amount in (
        ("p50", "Half the tries stay under", estimate.chance.p50),
        ("p80", "Eight tries in ten stay under", estimate.chance.p80),
        ("p90", "Nine tries in ten stay under", estimate.chance.p90),
    ):
        yield told(
            f"money.{name}",
            words,
            amount,
            CURRENCY,
            source=f"{len(estimate.chance.totals)} tries, seed {estimate.chance.seed}",
            note="tax in it, contingency not; amounts and prices drawn each by itself between their ends",
            grade=Grade.ASSUMED,
        )


def _life(job: Job, lives: tuple[LifeCost, ...]) -> Iterator[Figure]:
    terms = job.money
    yield worked(
        job,
        "money.rate",
        "Interest, in money that keeps its worth",
        real_rate(terms.interest, terms.rise),
        by(
            real_rate,
            interest=(terms.interest, "job: money.interest_percent"),
            rise=(terms.rise, "job: money.rise_percent"),
        ),
        grade=Grade.ASSUMED,
    )
    chosen = (job.pumps.chosen.name, job.route.chosen.name)
    for life in lives:
        if (life.offer.pump.name, life.offer.hose.name) == chosen and life.worth is not None:
            yield told(
                "money.whole_life",
                f"Chosen pump and hose over {terms.years} years",
                life.worth,
                CURRENCY,
                source="each payment at its worth today, added up",
                note=f"bought {life.pumps} times in {terms.years} years, energy at the end of each year, tax in it",
                grade=Grade.ASSUMED,
            )
