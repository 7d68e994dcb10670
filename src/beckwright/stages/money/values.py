"""What money comes to: the estimate and how sure it is, what changed since the quote, what running costs."""

from typing import Literal

from beckwright.base.errors import Problem
from beckwright.base.items import Item
from beckwright.base.quantities import Duration, Energy, FloatArray, Lengths, Money, Ratio
from beckwright.base.values import value
from beckwright.job.model import Group, Hose, PriceRow, Three
from beckwright.stages.supply import Offer

Changed = Literal["as quoted", "changed", "new", "gone"]


@value
class Line:
    """One item at its price. Low, likely, high; money without tax.

    row     None where nobody gave a price list a row for it
    number  as sold, waste in it, whole where only whole ones are sold; None where the row does not fit the item
    price   of one; None while nobody has answered
    taxed   whether tax is in the price as it was given
    cost    None where either is missing
    """

    item: Item
    group: Group
    row: PriceRow | None
    number: Three | None
    price: Three | None
    taxed: bool
    cost: Three | None


@value
class GroupSum:
    """One trade. ``risky`` groups carry contingency; ``missing`` counts its lines without a price."""

    group: Group
    cost: Three
    risky: bool
    missing: int


@value
class Chance:
    """How sure the sum is: ``totals`` (n,) of all tries, tax in them, contingency not."""

    totals: FloatArray
    p50: Money
    p80: Money
    p90: Money
    seed: int


@value
class Estimate:
    """What building it comes to. Money without tax unless it says otherwise.

    works        sum of the lines: low and high are all of them low, all of them high
    share        contingency's share of what is ``at_risk``; ``share_from`` says whose it is
    tax          None where nobody said one
    total        likely lines, contingency and tax
    missing      items nobody gave a price for
    misfits      rows of the price list whose unit cannot be had from the item's
    unused       rows of the price list that no item asked for
    """

    currency: str
    day: str
    lines: tuple[Line, ...]
    groups: tuple[GroupSum, ...]
    works: Three
    at_risk: Money
    share: Ratio
    share_from: str
    contingency: Money
    tax: Ratio | None
    tax_name: str
    tax_sum: Money
    total: Money
    chance: Chance
    missing: tuple[Item, ...]
    misfits: tuple[Problem, ...]
    unused: tuple[PriceRow, ...]


@value
class Variation:
    """One line then and now, in the unit it was quoted in. Money without tax, to the hundredth.

    by_amount  what the change of amount comes to at the rate of the quote
    by_rate    what the change of rate comes to at the amount of now
    """

    key: str
    name: str
    changed: Changed
    unit: str
    amount_then: float
    amount_now: float
    rate_then: Money
    rate_now: Money
    then: Money
    now: Money
    by_amount: Money
    by_rate: Money


@value
class Variations:
    """All that changed since the quote: ``then`` and what follows add up to ``now``, without contingency and tax."""

    lines: tuple[Variation, ...]
    then: Money
    now: Money
    difference: Money
    by_amount: Money
    by_rate: Money
    added: Money
    gone: Money
    misfits: tuple[Problem, ...]


@value
class CostCurve:
    """A year of one flow, run for all hours that any runs, against the bore. Ends where the pump cannot give it.

    bores, low, middle  (n,) rising
    high                (m,) for the last m bores: at the others the pump cannot give it if the wall loses most
    """

    flow: str
    bores: Lengths
    low: FloatArray
    middle: FloatArray
    high: FloatArray


@value
class HoseYear:
    """One hose on offer.

    least, year, most  cost of a year as it will be run; None where the pump cannot give a flow that is to run
    bought             on the route, tax in it; None where nobody gave a price
    """

    hose: Hose
    chosen: bool
    least: Money | None
    year: Money | None
    most: Money | None
    bought: Money | None


@value
class Payback:
    """A bigger hose in place of the next smaller one.

    extra  spent more at the start
    saved  in a year: least, middle, most
    years  until it has paid for itself, soonest and latest; None where it never does
    """

    smaller: str
    bigger: str
    extra: Money
    saved: Three
    years: tuple[float, float] | None


@value
class RunningCost:
    """What running costs against the hose's bore, the chosen pump slowed to each flow.

    time  in a year that any flow runs
    """

    time: Duration
    curves: tuple[CostCurve, ...]
    hoses: tuple[HoseYear, ...]
    paybacks: tuple[Payback, ...]


@value
class LifeCost:
    """One pump with one hose over the years, tax in every price.

    first    pumps and hose bought at the start; None where a price is missing
    year     energy of one year; None where it cannot be told
    pumps    how often all pumps are bought
    worth    all of it, later payments at what they are worth today; None where any part is missing
    why      where it stands, and why, in words
    """

    offer: Offer
    first: Money | None
    energy: Energy | None
    year: Money | None
    pumps: int
    worth: Money | None
    why: str
