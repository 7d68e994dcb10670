"""Items and rows of a price list by hand, for the tests of money."""

from dataclasses import replace

from beckwright.base.items import Item, Supplier
from beckwright.job.model import Job, MoneyTerms, PriceRow, Sold, Three
from beckwright.job.tables.sold import sold_by

TERMS = MoneyTerms(
    tax=None,
    tax_name="tax",
    prices_include_tax=None,
    ground="known",
    contingency=None,
    risky=("stone",),
    years=10,
    interest=0.03,
    rise=0.02,
    pump_life=7,
    budget=None,
    seed=1,
)


def item(key: str, amounts: Three | float, unit: str, supplier: Supplier = "merchant") -> Item:
    low, likely, high = amounts if isinstance(amounts, tuple) else (amounts,) * 3
    return Item(
        key=key,
        name=key,
        amount=likely,
        low=low,
        high=high,
        unit=unit,
        supplier=supplier,
        drawing="by hand",
        note="say",
    )


def sold(word: str, holds: str = "", density: float | None = None) -> Sold:
    found = sold_by(word, holds, density)
    assert isinstance(found, Sold), found
    return found


def row(
    key: str,
    price: Three | float | None,
    by: Sold,
    *,
    waste: float = 0.0,
    taxed: bool | None = None,
) -> PriceRow:
    return PriceRow(
        item=key,
        sold=by,
        price=(price,) * 3 if isinstance(price, int | float) else price,
        supplier="somebody",
        tax_included=taxed,
        date=None,
        source="by hand",
        waste=waste,
        note="",
        place=f"prices.csv {key}",
    )


def priced(job: Job, *rows: PriceRow, terms: MoneyTerms = TERMS) -> Job:
    """A job with these prices and no others."""
    return replace(
        job,
        price_list=rows,
        money=terms,
        route=replace(job.route, offered=()),
        earthworks=replace(job.earthworks, load_price=None),
    )
