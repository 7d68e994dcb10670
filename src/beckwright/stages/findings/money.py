"""Prices nobody gave, prices that do not fit, a budget that may not last, a pair that costs more over the years."""

from collections.abc import Iterator
from datetime import date, timedelta

from beckwright.base.findings import Finding, Severity
from beckwright.base.words import days, grouped, share
from beckwright.job.model import Job
from beckwright.stages.money import Estimate, LifeCost, Variations
from beckwright.tables.money import PRICE_AGE

_MOST_NAMES = 4
"""Names a finding lists; the estimate lists all."""
_SECONDS = 86400.0


def money_findings(
    job: Job, estimate: Estimate, lives: tuple[LifeCost, ...], variations: Variations | None
) -> Iterator[Finding]:
    """Findings on the money. Nothing is said of a job without any price: it has not come to that yet."""
    yield from _misfits(estimate, variations)
    if any(line.cost for line in estimate.lines if line.row in job.price_list):
        yield from _missing(estimate)
        yield from _labour(estimate)
    yield from _old(job)
    yield from _unused(estimate)
    yield from _budget(job, estimate)
    yield from _dearer(job, lives)
    yield from _energy(job)


def _misfits(estimate: Estimate, variations: Variations | None) -> Iterator[Finding]:
    for problem in (*estimate.misfits, *(variations.misfits if variations else ())):
        yield Finding(
            severity=Severity.FAIL,
            code="price-unit",
            place=problem.place,
            says=f"{problem.found}; the price is not used.",
            cure=f"{problem.remedy}.",
            source="unit of the price, unit of the item",
        )


def _missing(estimate: Estimate) -> Iterator[Finding]:
    names = [item.name for item in estimate.missing]
    if names:
        more = f" and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
        yield Finding(
            severity=Severity.CAUTION,
            code="price-missing",
            place="Estimate",
            says=f"{len(names)} of {len(estimate.lines)} lines have no price: {', '.join(names[:_MOST_NAMES])}{more}. "
            "The total is too low by what they cost.",
            cure="Ask for these prices and write them into prices.csv.",
            source="prices.csv",
            figure="money.total",
        )


def _labour(estimate: Estimate) -> Iterator[Finding]:
    if not any(line.group == "labour and hire" for line in estimate.lines):
        yield Finding(
            severity=Severity.CAUTION,
            code="labour-missing",
            place="Estimate",
            says="No day of labour or hire is in it: there is no programme.",
            cure="Write programme.start, the first day on site.",
            source="job.toml programme",
            figure="money.total",
        )


def _old(job: Job) -> Iterator[Finding]:
    """Prices older than a supplier keeps to."""
    today, age = date.fromisoformat(job.title.date), timedelta(days=PRICE_AGE.amount)
    old = [row for row in job.price_list if row.date is not None and today - row.date > age]
    if old:
        oldest = min(old, key=lambda row: row.date or today)
        yield Finding(
            severity=Severity.NOTE,
            code="price-old",
            place=f"{len(old)} rows of prices.csv",
            says=f"Older than {days(PRICE_AGE.amount * _SECONDS)}; the oldest, {oldest.item}, is of {oldest.date}.",
            cure="Ask again before ordering.",
            source=f"common practice: {PRICE_AGE.place}",
        )


def _unused(estimate: Estimate) -> Iterator[Finding]:
    if estimate.unused:
        names = ", ".join(row.item for row in estimate.unused[:_MOST_NAMES])
        more = f" and {len(estimate.unused) - _MOST_NAMES} more" if len(estimate.unused) > _MOST_NAMES else ""
        yield Finding(
            severity=Severity.NOTE,
            code="price-unused",
            place="prices.csv",
            says=f"Nothing in this job asks for {names}{more}.",
            cure="Look for a slip in the key, or leave it for another day.",
            source="prices.csv",
        )


def _budget(job: Job, estimate: Estimate) -> Iterator[Finding]:
    """Where the tries go beyond the budget: how often, and by how much nine in ten stay within."""
    budget, chance = job.money.budget, estimate.chance
    if budget is None or chance.p80 <= budget:
        return
    over = float((chance.totals > budget).mean())
    yield Finding(
        severity=Severity.CAUTION,
        code="over-budget",
        place="Estimate",
        says=f"{share(over)} of the tries come to more than the budget of {estimate.currency} {grouped(budget)}; "
        f"nine in ten stay under {grouped(chance.p90)}, contingency not in it.",
        cure=f"Take {grouped(chance.p90 - budget)} off the work, or agree to more before it starts.",
        source="job.toml money.budget",
        figure="money.p90",
    )


def _dearer(job: Job, lives: tuple[LifeCost, ...]) -> Iterator[Finding]:
    chosen = next(
        (life for life in lives if life.offer.pump == job.pumps.chosen and life.offer.hose == job.route.chosen), None
    )
    if chosen is None or chosen.worth is None or not lives or lives[0].worth is None or lives[0] is chosen:
        return
    best, years = lives[0], job.money.years
    less = chosen.worth - lives[0].worth
    if less > 0:
        yield Finding(
            severity=Severity.NOTE,
            code="dearer-for-years",
            place=f"{chosen.offer.pump.name} on {chosen.offer.hose.name} hose",
            says=f"Over {years} years {best.offer.pump.name} on {best.offer.hose.name} hose costs "
            f"{job.prices.currency} {grouped(less)} less, bought, run and replaced.",
            cure="Weigh the two on the pump and hose sheet.",
            source="prices.csv, job.toml money",
            figure="money.whole_life",
        )


def _energy(job: Job) -> Iterator[Finding]:
    if job.prices.energy is None and job.running:
        yield Finding(
            severity=Severity.NOTE,
            code="energy-price-missing",
            place="Running cost",
            says="Nobody has said what a kWh costs: no cost of running is told.",
            cure="Read it off the bill and write prices.energy_per_kwh.",
            source="job.toml prices",
        )
