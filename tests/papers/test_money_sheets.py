"""Sheets of money and order: every number of them is the estimate's own; no words lie on each other."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest

from beckwright.base.words import THIN, grouped
from beckwright.cli import money as told
from beckwright.compose import Design, design
from beckwright.job.read import read_job
from beckwright.papers import fonts
from beckwright.papers.drawing import Circle, Sheet, Text, plain
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.money.estimate import estimate_pages, estimate_sheets
from beckwright.papers.sheets.money.order import SUPPLIERS, also, asked, order_pages, order_sheets
from beckwright.papers.sheets.money.quote import quote_count, quote_sheets
from beckwright.papers.sheets.money.running import running_count, running_sheet
from beckwright.papers.sheets.shared.frame import HIGH, LEFT, LOW, WIDE
from beckwright.papers.sheets.supply.pairs import pairs_sheet
from beckwright.stages.money import Estimate, Variations, price, running_cost, whole_life
from tests.papers.priced import EXAMPLES, hazel_priced
from tests.stages.prices import item, priced, row, sold

NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")


@pytest.fixture(scope="module")
def made() -> tuple[Design, Estimate, Variations]:
    return hazel_priced()


def words_of(sheet: Sheet) -> list[Text]:
    return [replace(part, halo=0.0) for mark in sheet.marks for part in plain(mark) if isinstance(part, Text)]


def said(sheets: tuple[Sheet, ...]) -> str:
    return " | ".join(text.words for sheet in sheets for text in words_of(sheet))


def check_words(sheet: Sheet) -> None:
    texts = words_of(sheet)
    boxes = np.array([(*text_box(text).min(axis=0), *text_box(text).max(axis=0)) for text in texts])
    rim = (LEFT - 0.3, LOW - 0.3, LEFT + WIDE + 0.3, LOW + HIGH + 0.3)
    inside = (boxes[:, :2] >= rim[:2]).all(axis=1) & (boxes[:, 2:] <= rim[2:]).all(axis=1)
    assert inside.all(), [texts[place].words for place in np.flatnonzero(~inside)]
    across = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
    upwards = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
    clash = np.triu((across > 0.3) & (upwards > 0.6), 1)
    assert not clash.any(), [(texts[one].words, texts[other].words) for one, other in np.argwhere(clash)]
    assert not {letter for text in texts for letter in fonts.unprintable(text.words)}


def every_sheet(designed: Design, estimate: Estimate, variations: Variations | None) -> Iterator[Sheet]:
    yield from estimate_sheets(designed, estimate, 1, 9)
    if variations is not None:
        yield from quote_sheets(designed, variations, 2, 9)
    running = running_cost(designed.job, designed.reservoir)
    if running is not None:
        yield running_sheet(designed, running, 3, 9)
    yield pairs_sheet(designed, whole_life(designed.job, designed.supply), 4, 9)
    yield from order_sheets(designed, estimate, 5, 9)


def test_words_keep_apart_and_inside(made: tuple[Design, Estimate, Variations]) -> None:
    for sheet in every_sheet(*made):
        check_words(sheet)


@pytest.mark.parametrize("name", NAMES[1:])
def test_words_keep_apart_on_the_other_examples(name: str) -> None:
    designed = design(read_job(EXAMPLES / name))
    for sheet in every_sheet(designed, price(designed.job, ()), None):
        check_words(sheet)


def test_long_lists_go_on_further_sheets(made: tuple[Design, Estimate, Variations]) -> None:
    """Three hundred plants: the estimate and the nursery's order break into pages, nothing is lost."""
    designed = made[0]
    job = priced(designed.job, row("plants.*", 3.2, sold("each")))
    items = tuple(item(f"plants.kind_{number}", 5.0, "each", "nursery") for number in range(300))
    estimate = price(job, items)
    sheets = (*estimate_sheets(designed, estimate, 1, 20), *order_sheets(designed, estimate, 8, 20))
    assert len(estimate_pages(estimate)) > 2
    assert len(sheets) == len(estimate_pages(estimate)) + len(order_pages(estimate))
    for sheet in sheets:
        check_words(sheet)
    whole = said(sheets)
    assert [each.key for each in items if whole.count(f"Plants.kind_{each.key[12:]} |") != 2] == []


def test_totals_are_the_estimates_own(made: tuple[Design, Estimate, Variations]) -> None:
    designed, estimate, _ = made
    whole = said(estimate_sheets(designed, estimate, 1, 1))
    chance = estimate.chance
    for money in (estimate.works[1], estimate.contingency, estimate.tax_sum, estimate.total, chance.p50, chance.p90):
        assert grouped(money) in whole
    assert "no price given" in whole
    assert "your own" in whole


def test_paper_and_terminal_tell_the_same(made: tuple[Design, Estimate, Variations]) -> None:
    designed, estimate, variations = made
    paper = said((*estimate_sheets(designed, estimate, 1, 1), *quote_sheets(designed, variations, 2, 2)))
    terminal = told.in_words(estimate, designed.job.money.budget)
    since = told.since_in_words(variations, estimate.currency)
    assert max(len(line) for line in (*terminal.splitlines(), *since.splitlines())) <= 110
    cells = [cell.strip() for line in (*terminal.splitlines(), *since.splitlines()) for cell in line.split("  ")]
    amounts = {cell.lstrip("+") for cell in cells if THIN in cell and " " not in cell}
    assert len(amounts) > 10
    assert [amount for amount in amounts if amount not in paper] == []


def test_since_the_quote_adds_up_as_printed(made: tuple[Design, Estimate, Variations]) -> None:
    designed, _, variations = made
    sheets = quote_sheets(designed, variations, 1, 9)
    assert len(sheets) == quote_count(variations)
    texts = [text.words for text in words_of(sheets[-1])]

    def printed(words: str) -> float:
        # A sum stands after its words; the table before it has columns of the same names.
        place = len(texts) - 1 - texts[::-1].index(words)
        return float(texts[place + 1].replace(THIN, "").replace("−", "-").replace("+", ""))

    parts = [
        printed(words)
        for words in (
            "changed amounts, at the rates of the quote",
            "changed rates, on the amounts of now",
            "new lines",
            "lines gone",
        )
    ]
    assert printed("Quoted") + sum(parts) == pytest.approx(printed("Now"), abs=1e-9)
    assert printed("Difference") == pytest.approx(sum(parts), abs=1e-9)


def test_every_item_is_on_one_suppliers_sheet(made: tuple[Design, Estimate, Variations]) -> None:
    designed, estimate, _ = made
    sheets = order_sheets(designed, estimate, 1, 9)
    for supplier in SUPPLIERS:
        own = said(tuple(sheet for sheet in sheets if sheet.title.endswith(f"order list, {supplier}")))
        for line in estimate.lines:
            held = f"{line.item.name[:1].upper()}{line.item.name[1:]} |" in own
            assert held is (line.item.supplier == supplier), (line.item.name, supplier)
    assert "165" not in said(tuple(sheet for sheet in sheets if "quarry" in sheet.title))


def test_the_pump_is_asked_for_by_its_duty(made: tuple[Design, Estimate, Variations]) -> None:
    """Litres an hour at metres of head, for every flow it gives; the bore in mm and inches, and at its true size."""
    designed, estimate, _ = made
    (sheet,) = [each for each in order_sheets(designed, estimate, 1, 9) if "pump and hose" in each.title]
    whole = said((sheet,))
    for given in designed.supply.chosen.flows:
        if given.duty is not None:
            assert f"{given.duty.head:.2f} m" in whole
    assert f"9{THIN}000 L/h" in whole
    assert "50 mm (1.97 in)" in whole
    (bore,) = [mark for mark in sheet.marks if isinstance(mark, Circle)]
    assert 2 * bore.radius == pytest.approx(50.0)


@pytest.mark.parametrize(
    ("amounts", "unit", "by", "how_much", "that_is"),
    [
        ((6000.0, 7200.0, 9000.0), "kg", sold("t"), "7.2 t (6.0 to 9.0)", ""),
        ((6000.0, 7200.0, 9000.0), "kg", sold("t", density=1600.0), "7.2 t (6.0 to 9.0)", "4.5 m³ loose"),
        (
            (1600.0, 1690.0, 1710.0),
            "kg",
            sold("bulk bag", "0.85 t"),
            "2 bulk bags (2 to 3)",
            "1.7 t (1.6 to 1.7)",
        ),
        ((0.6, 0.6, 0.6), "m3", sold("bulk bag", "0.7 m3"), "1 bulk bag", "0.6 m³"),
        ((73.0, 73.0, 73.0), "m2", sold("m2"), "73.0 m²", ""),
        ((20.0, 20.0, 20.0), "each", sold("each"), "20", ""),
        ((3.0, 3.0, 3.0), "day", sold("day"), "3.0 days", ""),
    ],
)
def test_amounts_in_the_suppliers_own_units(
    made: tuple[Design, Estimate, Variations],
    amounts: tuple[float, float, float],
    unit: str,
    by: object,
    how_much: str,
    that_is: str,
) -> None:
    """By hand: 7.2 t at 1.6 t a m3 are 4.5 m3; 1.69 t are two bags of 0.85, 1.71 three."""
    job = priced(made[0].job, row("stone.edge", 1.0, by))  # type: ignore[arg-type]
    (line,) = price(job, (item("stone.edge", amounts, unit),)).lines
    assert (asked(line), also(line)) == (how_much, that_is)


def test_without_a_price_the_amount_is_net_and_in_its_own_unit(made: tuple[Design, Estimate, Variations]) -> None:
    (line,) = price(priced(made[0].job), (item("stone.edge", (900.0, 1100.0, 1200.0), "kg"),)).lines
    assert (asked(line), also(line)) == ("1.1 t (0.9 to 1.2)", "net: no waste in it")


def test_bores_are_drawn_in_true_proportion(made: tuple[Design, Estimate, Variations]) -> None:
    designed = made[0]
    running = running_cost(designed.job, designed.reservoir)
    assert running is not None
    sheet = running_sheet(designed, running, 1, 1)
    drawn = sorted(mark.radius for mark in sheet.marks if isinstance(mark, Circle) and mark.layer == "hose")
    bores = sorted(each.bore for each in designed.job.route.offered)
    np.testing.assert_allclose(np.array(drawn) / drawn[0], np.array(bores) / bores[0])


def test_without_a_price_of_energy_there_is_no_sheet_of_running_cost(
    made: tuple[Design, Estimate, Variations],
) -> None:
    designed = made[0]
    job = replace(designed.job, prices=replace(designed.job.prices, energy=None))
    assert running_count(running_cost(job, designed.reservoir)) == 0
