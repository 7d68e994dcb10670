"""Money: what a line costs, what tax and risk add, and what a later payment is worth today."""
# mypy: no-warn-return-any

from beckwright.base.published import published
from beckwright.base.quantities import Money, Ratio


@published(source="definition", place="an amount at its price")
def line_cost(amount: Ratio, price: Money) -> Money:
    """Cost of so many at a price.

    ``M = n p``

    amount  n  as sold
    price   p  of one
    """
    return amount * price


@published(source="definition", place="a price with its tax taken off")
def without_tax(price: Money, tax: Ratio) -> Money:
    """Price without the tax that is in it.

    ``N = B / (1 + t)``

    price  B  tax included
    tax    t  share of the price without it
    """
    return price / (1 + tax)


@published(source="definition", place="a share of what is at risk")
def contingency_sum(share: Ratio, risky: Money) -> Money:
    """Money kept back for what the ground may still show.

    ``C = c R``

    share  c  of what is at risk
    risky  R  sum of the groups the ground can change
    """
    return share * risky


@published(source="hi-europump-2001", place="real rate, from the nominal rate and the rise of prices")
def real_rate(interest: Ratio, rise: Ratio) -> Ratio:
    """Interest a year in money that keeps its worth.

    ``r = (1 + i) / (1 + p) - 1``

    interest  i  a year, in money of the day
    rise      p  of what is to be paid for, a year
    """
    return (1 + interest) / (1 + rise) - 1


@published(source="hi-europump-2001", place="single payment, present worth")
def present_worth(payment: Money, rate: Ratio, year: Ratio) -> Money:
    """What a payment at the end of a year is worth today.

    ``P = F / (1 + r)**n``

    payment  F  in money of today
    rate     r  real interest a year
    year     n  count of years from today
    """
    return payment / (1 + rate) ** year


@published(source="definition", place="what is spent more over what is saved in a year")
def payback(extra: Money, saved: Money) -> Ratio:
    """Years until something dearer has paid for itself, nothing discounted.

    ``n = E / S``

    extra  E  spent more at the start
    saved  S  in each year
    """
    return extra / saved
