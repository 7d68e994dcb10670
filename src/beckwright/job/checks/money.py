"""Checks on money as written: whether tax is in a price must be known wherever it changes a sum."""

from collections.abc import Iterator

from beckwright.job.model import Hose, PriceRow, QuotedRow
from beckwright.job.wording.fault import Fault
from beckwright.job.written.ground import EarthworksWritten
from beckwright.job.written.money import MoneyWritten


def tax_in_prices_told(
    money: MoneyWritten,
    price_list: tuple[PriceRow, ...],
    quote: tuple[QuotedRow, ...],
    hoses: tuple[Hose, ...],
    earthworks: EarthworksWritten,
) -> Iterator[Fault]:
    """Refuse a tax where nobody said whether a price holds it."""
    if money.tax_percent is None or money.prices_include_tax is not None:
        return
    rows: list[PriceRow | QuotedRow] = [*price_list, *quote]
    silent = [row.place for row in rows if row.tax_included is None]
    silent += ["hoses.csv"] * any(hose.price_per_length is not None for hose in hoses)
    silent += ["earthworks.load_price"] * (earthworks.load_price is not None)
    if silent:
        found = f"tax_percent is {money.tax_percent:g} and {silent[0]} does not say whether its price holds the tax"
        remedy = "Write money.prices_include_tax = true or false"
        yield ("money", "tax_percent"), found, "With or without tax must be told for every price", remedy


def tax_rate_told(
    money: MoneyWritten, price_list: tuple[PriceRow, ...], quote: tuple[QuotedRow, ...]
) -> Iterator[Fault]:
    """Refuse prices with and without tax side by side where nobody said how much it is."""
    rows: list[PriceRow | QuotedRow] = [*price_list, *quote]
    told = {row.tax_included for row in rows}
    if None in told:
        told = (told - {None}) | {money.prices_include_tax}
    if money.tax_percent is None and {True, False} <= told:
        found = "some prices hold tax and some do not"
        rule = "They can be added up only where the tax is known"
        yield ("money", "tax_percent"), found, rule, "Write money.tax_percent, or give all prices the same way"


def groups_once(money: MoneyWritten) -> Iterator[Fault]:
    """Refuse a risky group told twice."""
    for place, group in enumerate(money.risky_groups):
        if group in money.risky_groups[:place]:
            yield (
                ("money", "risky_groups", place),
                f'"{group}" stands twice',
                "Each group is told once",
                "Drop one of them",
            )
