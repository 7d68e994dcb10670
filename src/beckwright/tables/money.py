"""Money: shares and years that decide a sum. Never a price: a price is the person's own."""

from beckwright.base.tabled import Tabled, assumed, habit

CONTINGENCY: dict[str, Tabled] = {
    "known": habit(0.10, 0.10, 0.10, "1", "contingency where the ground is known"),
    "unknown": habit(0.20, 0.20, 0.20, "1", "contingency where the ground is unknown, and on repairs"),
}
"""Share of what the ground and the stone can change, not of every line."""

LIFE_YEARS = assumed(10.0, 5.0, 20.0, "year", "years a pump and a hose are compared over")
PUMP_LIFE = habit(7.0, 5.0, 10.0, "year", "a pump that stands in water runs this long before another is bought")
INTEREST = assumed(0.03, 0.0, 0.05, "1", "what money not spent would earn in a year")
PRICE_RISE = assumed(0.02, 0.0, 0.05, "1", "rise of prices in a year, energy and pumps alike")
PRICE_AGE = habit(90.0, 30.0, 90.0, "day", "a supplier keeps to a price about so long")
HOSE_SPARE = habit(0.10, 0.05, 0.10, "1", "hose beyond the drawn route: it never lies as straight as it is drawn")
