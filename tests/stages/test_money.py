"""The estimate by hand and by its laws; units; how sure a sum is; what changed since the quote."""

from dataclasses import replace
from math import fsum

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import beta

from beckwright.job.model import Job, QuotedRow
from beckwright.stages.money import Estimate, compare_with_quote, price
from beckwright.stages.money.chance import TRIES
from beckwright.stages.money.rates import row_for
from beckwright.stages.money.units import bought, sold_per_unit
from tests.stages.prices import TERMS, item, priced, row, sold

VAT = replace(TERMS, tax=0.20, tax_name="VAT", prices_include_tax=False, contingency=0.12)
"""Twenty per cent on prices without it; 12 % of the stone for what the ground may show."""

ITEMS = (
    item("stone.edge", (6000.0, 7000.0, 9000.0), "kg", "quarry"),
    item("lining.course", 73.0, "m2", "lining"),
    item("planting.soil", (0.44, 0.65, 0.87), "m3"),
)
ROWS = (
    row("stone.*", (150.0, 160.0, 185.0), sold("t")),
    row("lining.course", 8.9, sold("m2"), waste=0.05),
    row("planting.soil", 62.0, sold("bulk bag", "0.7 m3")),
)


class TestUnits:
    @pytest.mark.parametrize(
        ("unit", "by", "one"),
        [
            ("kg", sold("t"), 0.001),
            ("kg", sold("kg"), 1.0),
            ("kg", sold("bulk bag", "0.85 t"), 1 / 850),
            ("kg", sold("m3", density=1600.0), 1 / 1600),
            ("kg", sold("bulk bag", "0.5 m3", 1600.0), 1 / 800),
            ("m3", sold("t", density=1600.0), 1.6),
            ("m3", sold("bag", "50 litre"), 20.0),
            ("m", sold("roll", "25 m"), 0.04),
            ("m2", sold("roll", "100 m2"), 0.01),
            ("each", sold("load"), 1.0),
            ("day", sold("week", "5 day"), 0.2),
        ],
    )
    def test_how_many_as_sold(self, unit: str, by: object, one: float) -> None:
        """By hand: what one unit of the item is of one as sold."""
        assert sold_per_unit(unit, by) == pytest.approx(one)  # type: ignore[arg-type]

    @pytest.mark.parametrize(
        ("unit", "by"),
        [("kg", sold("m3")), ("m3", sold("t")), ("m", sold("m2")), ("kg", sold("bulk bag")), ("each", sold("kg"))],
    )
    def test_nothing_is_guessed(self, unit: str, by: object) -> None:
        assert sold_per_unit(unit, by) is None  # type: ignore[arg-type]

    @pytest.mark.parametrize(
        ("amount", "waste", "number"), [(0.69, 0.0, 1), (0.70, 0.0, 1), (0.71, 0.0, 2), (0.67, 0.05, 2), (0.0, 0.1, 0)]
    )
    def test_bags_are_bought_whole(self, amount: float, waste: float, number: int) -> None:
        """A bag of 0.7 m3; 5 % on 0.67 is 0.7035."""
        bag = sold("bulk bag", "0.7 m3")
        assert bought(amount, 1 / 0.7, bag, waste) == number

    def test_metres_are_cut(self) -> None:
        assert bought(23.0, 1.0, sold("m"), 0.10) == pytest.approx(25.3)

    def test_a_misfit_is_told_with_its_remedy_and_costs_nothing(self, hazel: Job) -> None:
        found = price(priced(hazel, row("stone.edge", 90.0, sold("bulk bag"))), ITEMS[:1])
        (problem,) = found.misfits
        assert "stone.edge is sold by the bulk bag and counted in kg" in str(problem)
        assert "holds" in problem.remedy
        assert found.works == (0.0, 0.0, 0.0)

    def test_a_misfit_of_mass_and_volume_asks_for_the_density(self, hazel: Job) -> None:
        found = price(priced(hazel, row("stone.edge", 90.0, sold("m3"))), ITEMS[:1])
        assert "bulk_kg_m3" in found.misfits[0].remedy


class TestWhichPrice:
    def test_own_row_before_the_longest_beginning(self, hazel: Job) -> None:
        rows = [row(key, 1.0, sold("t")) for key in ("stone.*", "stone.bed.*", "stone.bed.pebbles")]
        job = priced(hazel, *rows)
        for key, wanted in (
            ("stone.bed.pebbles", "stone.bed.pebbles"),
            ("stone.bed.cobbles", "stone.bed.*"),
            ("stone.edge", "stone.*"),
        ):
            found = row_for(key, job)
            assert found is not None
            assert found.item == wanted
        assert row_for("stonework", job) is None

    def test_prices_of_hoses_and_loads_stand_elsewhere(self, hazel: Job) -> None:
        """hoses.csv prices the metre, the section on ground work the load; a row of the price list goes before both."""
        load = row_for("ground.cart.topsoil", hazel)
        assert load is not None
        assert load.price == (285.0, 285.0, 285.0)
        own = replace(hazel, price_list=(row("hose.*", 9.0, sold("m")),))
        for job, wanted in ((hazel, 7.2), (own, 9.0)):
            hose = row_for("hose.length.spiral_50", job)
            assert hose is not None
            assert hose.price == (wanted, wanted, wanted)


class TestEstimate:
    def test_by_hand(self, hazel: Job) -> None:
        """Stone 7 t x 160 = 1 120 (6 x 150 = 900, 9 x 185 = 1 665); lining 73 x 1.05 x 8.90 = 682.185; soil 0.65 m3 is
        one bag of 0.7, 0.87 two: 62 (62, 124). Sum 1 864.185. Contingency 12 % of the stone 134.40.
        VAT 20 % of 1 998.585 = 399.717. Total 2 398.302.
        """
        found = price(priced(hazel, *ROWS, terms=VAT), ITEMS)
        assert [line.cost[1] for line in found.lines if line.cost] == pytest.approx([1120.0, 682.185, 62.0])
        assert found.works == pytest.approx((900 + 682.185 + 62, 1864.185, 1665 + 682.185 + 124))
        assert found.at_risk == pytest.approx(1120.0)
        assert found.contingency == pytest.approx(134.40)
        assert found.tax_sum == pytest.approx(399.717)
        assert found.total == pytest.approx(2398.302)

    def test_tax_in_a_price_is_taken_off_and_put_on_again(self, hazel: Job) -> None:
        """A bag of 74.40 with 20 % in it is one of 62 without."""
        rows = (*ROWS[:2], row("planting.soil", 74.4, sold("bulk bag", "0.7 m3"), taxed=True))
        assert price(priced(hazel, *rows, terms=VAT), ITEMS).total == pytest.approx(2398.302)

    @pytest.mark.parametrize(("ground", "share"), [("known", 0.10), ("unknown", 0.20)])
    def test_contingency_of_the_trade(self, hazel: Job, ground: str, share: float) -> None:
        """10 % known ground, 20 % unknown: common practice."""
        terms = replace(TERMS, ground=ground)  # type: ignore[arg-type]
        found = price(priced(hazel, *ROWS, terms=terms), ITEMS)
        assert found.contingency == pytest.approx(share * 1120.0)
        assert "common practice" in found.share_from

    def test_without_a_price_it_is_listed_and_in_no_sum(self, hazel: Job) -> None:
        found = price(priced(hazel, ROWS[0], row("lining.*", None, sold("m2"))), ITEMS)
        assert [each.key for each in found.missing] == ["lining.course", "planting.soil"]
        assert found.works[1] == pytest.approx(1120.0)
        assert [(group.group, group.missing) for group in found.groups] == [
            ("lining", 1),
            ("stone", 0),
            ("planting", 1),
        ]

    def test_rows_nobody_asks_for_are_told(self, hazel: Job) -> None:
        rows = (*ROWS, row("stnoe.lip", 5.0, sold("t")), row("ground.bank", 0.0, sold("m3")))
        assert [each.item for each in price(priced(hazel, *rows), ITEMS).unused] == ["stnoe.lip"]

    def test_examples_have_the_prices_their_items_need(self, hazel: Job) -> None:
        assert all(each.sold.holds > 0 for each in hazel.price_list)
        assert hazel.money.tax == pytest.approx(0.20)


AMOUNTS = st.floats(0.1, 1e4)
PRICES = st.floats(0.01, 1e3)
SPREADS = st.floats(1.0, 3.0)


@st.composite
def jobs(draw: st.DrawFn) -> tuple[tuple[object, ...], tuple[object, ...]]:
    """Items of a few trades in a few units, each with a row of its own."""
    kinds = (
        ("stone", "kg", "t", ""),
        ("lining", "m2", "m2", ""),
        ("plants", "each", "each", ""),
        ("labour", "day", "day", ""),
    )
    items, rows = [], []
    for number in range(draw(st.integers(1, 8))):
        stem, unit, word, holds = draw(st.sampled_from(kinds))
        likely, cost = draw(AMOUNTS), draw(PRICES)
        amounts = (likely / draw(SPREADS), likely, likely * draw(SPREADS))
        items.append(item(f"{stem}.{number}", amounts, unit))
        prices = (cost / draw(SPREADS), cost, cost * draw(SPREADS))
        rows.append(row(f"{stem}.{number}", prices, sold(word, holds), waste=draw(st.floats(0.0, 0.3))))
    return tuple(items), tuple(rows)


class TestLaws:
    @given(made=jobs())
    def test_parts_make_the_whole(self, hazel: Job, made: tuple[tuple, tuple]) -> None:  # type: ignore[type-arg]
        items, rows = made
        found = price(priced(hazel, *rows, terms=VAT), items)
        for end in range(3):
            costs = [line.cost[end] for line in found.lines if line.cost]
            assert found.works[end] == pytest.approx(fsum(costs), rel=1e-12)
            assert found.works[end] == pytest.approx(fsum(group.cost[end] for group in found.groups), rel=1e-12)
        assert found.total == pytest.approx((found.works[1] + found.contingency) * 1.2, rel=1e-12)
        assert found.works[0] <= found.works[1] <= found.works[2]

    @given(made=jobs(), turned=st.randoms(use_true_random=False))
    def test_the_order_of_lines_changes_nothing(self, hazel: Job, made: tuple[tuple, tuple], turned) -> None:  # type: ignore[no-untyped-def, type-arg]
        items, rows = made
        shuffled = list(items)
        turned.shuffle(shuffled)
        one, other = (price(priced(hazel, *rows, terms=VAT), tuple(each)) for each in (items, shuffled))
        assert other.total == pytest.approx(one.total, rel=1e-12)
        assert np.array_equal(one.chance.totals, other.chance.totals)

    @given(made=jobs())
    def test_twice_the_prices_is_twice_the_money(self, hazel: Job, made: tuple[tuple, tuple]) -> None:  # type: ignore[type-arg]
        items, rows = made
        dearer = [replace(each, price=tuple(2 * end for end in each.price)) for each in rows]
        one, other = (price(priced(hazel, *each, terms=VAT), items) for each in (rows, dearer))
        for name in ("total", "contingency", "tax_sum", "at_risk"):
            assert getattr(other, name) == pytest.approx(2 * getattr(one, name), rel=1e-12)
        for name in ("p50", "p80", "p90"):
            assert getattr(other.chance, name) == pytest.approx(2 * getattr(one.chance, name), rel=1e-9)

    @given(made=jobs())
    def test_nothing_for_nothing(self, hazel: Job, made: tuple[tuple, tuple]) -> None:  # type: ignore[type-arg]
        items, rows = made
        found = price(priced(hazel, *(replace(each, price=(0.0, 0.0, 0.0)) for each in rows), terms=VAT), items)
        assert (found.total, found.chance.p90, found.missing) == (0.0, 0.0, ())

    @given(made=jobs())
    def test_tries_keep_between_all_low_and_all_high(self, hazel: Job, made: tuple[tuple, tuple]) -> None:  # type: ignore[type-arg]
        items, rows = made
        found = price(priced(hazel, *rows), items)
        chance = found.chance
        assert found.works[0] - 1e-6 <= chance.totals.min() <= chance.totals.max() <= found.works[2] * (1 + 1e-9)
        assert chance.p50 <= chance.p80 <= chance.p90


class TestChance:
    """PERT beta through 2, 4, 12: mean (2 + 16 + 12) / 6 = 5, variance 3.0 (checked table C06); deciles by scipy."""

    GUESSES = (2.0, 4.0, 12.0)
    LAW = beta(1.8, 4.2, loc=2.0, scale=10.0)

    def spread(self, job: Job, *each: tuple[object, object]) -> Estimate:
        items = tuple(item(f"labour.{n}", amounts, "day") for n, (amounts, _) in enumerate(each))  # type: ignore[arg-type]
        rows = [row(f"labour.{n}", prices, sold("day")) for n, (_, prices) in enumerate(each)]  # type: ignore[arg-type]
        return price(priced(job, *rows), items)

    @pytest.mark.parametrize("each", [(GUESSES, 1.0), (1.0, GUESSES)], ids=["amount", "price"])
    def test_one_line(self, hazel: Job, each: tuple[object, object]) -> None:
        chance = self.spread(hazel, each).chance
        assert chance.totals.mean() == pytest.approx(5.0, abs=4 * (3.0 / TRIES) ** 0.5)
        assert chance.totals.var() == pytest.approx(3.0, rel=0.06)
        for share, found in ((0.5, chance.p50), (0.8, chance.p80), (0.9, chance.p90)):
            assert found == pytest.approx(float(self.LAW.ppf(share)), abs=0.1)

    def test_independent_lines_add_means_and_variances(self, hazel: Job) -> None:
        chance = self.spread(hazel, *[(self.GUESSES, 1.0)] * 4).chance
        assert chance.totals.mean() == pytest.approx(20.0, abs=4 * (12.0 / TRIES) ** 0.5)
        assert chance.totals.var() == pytest.approx(12.0, rel=0.06)

    def test_lines_of_one_price_move_together(self, hazel: Job) -> None:
        """Two days at one uncertain price: 2 p has four times the variance of p, not twice."""
        items = tuple(item(f"labour.{n}", 1.0, "day") for n in range(2))
        found = price(priced(hazel, row("labour.*", self.GUESSES, sold("day"))), items)
        assert found.chance.totals.var() == pytest.approx(12.0, rel=0.06)

    def test_tax_is_in_the_tries(self, hazel: Job) -> None:
        rows = [row("labour.0", self.GUESSES, sold("day"))]
        items = (item("labour.0", 1.0, "day"),)
        bare, taxed = (price(priced(hazel, *rows, terms=terms), items).chance for terms in (TERMS, VAT))
        np.testing.assert_allclose(taxed.totals, 1.2 * bare.totals, rtol=1e-12)

    def test_another_seed_gives_other_tries_and_much_the_same_answer(self, hazel: Job) -> None:
        one, other = (price(priced(hazel, *ROWS, terms=replace(VAT, seed=seed)), ITEMS).chance for seed in (1, 2))
        assert not np.array_equal(one.totals, other.totals)
        assert one.p80 == pytest.approx(other.p80, rel=0.01)


def quoted(key: str, amount: float, word: str, rate: float, *, holds: str = "", taxed: bool | None = None) -> QuotedRow:
    return QuotedRow(
        item=key,
        sold=sold(word, holds),
        amount=amount,
        rate=rate,
        tax_included=taxed,
        date=None,
        note="",
        place=f"quote.csv {key}",
    )


class TestQuote:
    def test_by_hand(self, hazel: Job) -> None:
        """Stone quoted 6.5 t at 150 = 975, now 7 t at 160 = 1 120: 0.5 t at 150 = 75 more by amount, 7 t at 10 = 70 by
        rate. Crates gone: 620. Lining as it was: 76.65 m2 at 8.90. Soil new: 62.
        """
        job = priced(hazel, *ROWS, terms=VAT)
        quote = (
            quoted("stone.edge", 6.5, "t", 150.0),
            quoted("crates", 20, "each", 31.0),
            quoted("lining.course", 76.65, "m2", 8.9),
        )
        found = compare_with_quote(quote, VAT, price(job, ITEMS))
        assert found is not None
        stone, crates, lining, soil = found.lines
        assert (stone.changed, stone.then, stone.now, stone.by_amount, stone.by_rate) == ("changed", 975, 1120, 75, 70)
        assert (crates.changed, crates.then, crates.now) == ("gone", 620, 0)
        assert (lining.changed, lining.then, lining.by_amount, lining.by_rate) == ("as quoted", 682.19, 0, 0)
        assert (soil.changed, soil.then, soil.now) == ("new", 0, 62)
        assert (found.then, found.now, found.difference) == (2277.19, 1864.19, -413.0)
        assert (found.by_amount, found.by_rate, found.added, found.gone) == (75, 70, 62, -620)

    def test_another_unit_is_brought_back_to_the_quoted_one(self, hazel: Job) -> None:
        """Quoted in bulk bags of 0.85 t; 7 t are 9 of them, 1 120 now makes 124.44 each."""
        found = compare_with_quote(
            (quoted("stone.edge", 8, "bulk bag", 140.0, holds="0.85 t"),), VAT, price(priced(hazel, *ROWS), ITEMS)
        )
        assert found is not None
        line = found.lines[0]
        assert (line.amount_now, line.then, line.now, line.by_amount) == (9, 1120, 1120, 140)
        assert line.rate_now == pytest.approx(124.44, abs=0.01)
        assert line.changed == "changed"

    def test_a_quote_with_tax_is_held_against_money_without(self, hazel: Job) -> None:
        """180 a tonne with 20 % in it is 150."""
        found = compare_with_quote(
            (quoted("stone.edge", 7, "t", 180.0, taxed=True),), VAT, price(priced(hazel, *ROWS, terms=VAT), ITEMS)
        )
        assert found is not None
        assert (found.lines[0].then, found.lines[0].by_rate) == (1050, 70)

    def test_without_a_price_now_the_quoted_rate_stands(self, hazel: Job) -> None:
        found = compare_with_quote((quoted("stone.edge", 6, "t", 150.0),), VAT, price(priced(hazel), ITEMS[:1]))
        assert found is not None
        assert (found.now, found.by_amount, found.by_rate) == (1050, 150, 0)

    def test_units_that_cannot_be_joined_are_told(self, hazel: Job) -> None:
        found = compare_with_quote((quoted("stone.edge", 6, "m", 150.0),), VAT, price(priced(hazel, *ROWS), ITEMS[:1]))
        assert found is not None
        assert len(found.misfits) == 1
        assert [line.changed for line in found.lines] == ["gone", "new"]

    def test_no_quote_no_comparison(self, hazel: Job) -> None:
        assert compare_with_quote((), VAT, price(priced(hazel, *ROWS), ITEMS)) is None

    @given(
        made=jobs(),
        rates=st.lists(PRICES, min_size=8, max_size=8),
        amounts=st.lists(AMOUNTS, min_size=8, max_size=8),
        left_out=st.integers(0, 3),
    )
    def test_the_sums_add_up_to_the_cent(
        self,
        hazel: Job,
        made: tuple[tuple, tuple],  # type: ignore[type-arg]
        rates: list[float],
        amounts: list[float],
        left_out: int,
    ) -> None:
        items, rows = made
        quote = [
            quoted(each.item, amount, each.sold.word, rate)
            for each, amount, rate in zip(rows[left_out:], amounts, rates, strict=False)
        ]
        quote.append(quoted("pump.gone", amounts[-1], "each", rates[-1]))
        found = compare_with_quote(tuple(quote), VAT, price(priced(hazel, *rows, terms=VAT), items))
        assert found is not None
        cents = [round(100 * part) for part in (found.then, found.by_amount, found.by_rate, found.added, found.gone)]
        assert sum(cents) == round(100 * found.now)
        assert round(100 * found.difference) == round(100 * found.now) - round(100 * found.then)
        for line in found.lines:
            parts = [round(100 * part) for part in (line.then, line.by_amount, line.by_rate)]
            assert sum(parts) == round(100 * line.now), line
