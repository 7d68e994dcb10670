"""Which price holds for an item: its own row first, then the longest beginning; tax off or on as it is asked."""

from collections.abc import Iterable

from beckwright.base.quantities import Money
from beckwright.equations.money import without_tax
from beckwright.job.model import Job, MoneyTerms, PriceRow, QuotedRow, Sold, Three
from beckwright.stages.supply import hose_key

_METRE = Sold(word="m", holds=1.0, measure="m", whole=False, density=None)
_LOAD = Sold(word="load", holds=1.0, measure="each", whole=True, density=None)


def row_for(key: str, job: Job) -> PriceRow | None:
    """The price list's row for a key; else what the job says elsewhere; None where nobody said."""
    return _matching(key, job.price_list) or _matching(key, _elsewhere(job))


def covers(row: PriceRow, key: str) -> bool:
    """Whether a row is for this key."""
    return row.item == key or (row.item.endswith(".*") and f"{key}.".startswith(row.item[:-1]))


def _matching(key: str, rows: Iterable[PriceRow]) -> PriceRow | None:
    return max((row for row in rows if covers(row, key)), key=lambda row: _closeness(row, key), default=None)


def _closeness(row: PriceRow, key: str) -> tuple[bool, int]:
    return row.item == key, len(row.item)


def _elsewhere(job: Job) -> list[PriceRow]:
    """Prices that stand in hoses.csv and in the section on ground work."""
    rows = [
        _row(hose_key(hose), _METRE, hose.price_per_length, "hoses.csv")
        for hose in job.route.offered
        if hose.price_per_length is not None
    ]
    price = job.earthworks.load_price
    return rows if price is None else [*rows, _row("ground.cart.*", _LOAD, price, "job.toml earthworks.load_price")]


def _row(item: str, sold: Sold, price: Money, place: str) -> PriceRow:
    return PriceRow(
        item=item,
        sold=sold,
        price=(price, price, price),
        supplier="",
        tax_included=None,
        date=None,
        source=place,
        waste=0.0,
        note="",
        place=place,
    )


def net(price: Money, row: PriceRow | QuotedRow, terms: MoneyTerms) -> Money:
    """A price of a row without tax; as it stands where nobody said what the tax is."""
    return without_tax(price, terms.tax) if terms.tax is not None and holds_tax(row, terms) else price


def gross(price: Money, row: PriceRow, terms: MoneyTerms) -> Money:
    """A price of a row with tax; as it stands where nobody said what the tax is."""
    return price if terms.tax is None or holds_tax(row, terms) else price * (1 + terms.tax)


def net_three(row: PriceRow, terms: MoneyTerms) -> Three | None:
    """Low, likely and high price of a row without tax."""
    if row.price is None:
        return None
    low, likely, high = (net(price, row, terms) for price in row.price)
    return low, likely, high


def holds_tax(row: PriceRow | QuotedRow, terms: MoneyTerms) -> bool:
    """Whether tax is in a price: as its row says, else as the terms say, else it is not."""
    return bool(terms.prices_include_tax if row.tax_included is None else row.tax_included)
