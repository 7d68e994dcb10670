"""The workbook, opened by a spreadsheet that is not ours: every formula worked again, held against the estimate.

A reader of the format that keeps no worked value stores the workbook first, so that LibreOffice Calc must work every
formula itself.
"""

from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from beckwright.compose import Design
from beckwright.papers.formats.xlsx import write_workbook
from beckwright.stages.money import Estimate, Variations, price
from tests.papers.opened import recalculated
from tests.papers.priced import hazel_priced, items_of

CENT = 0.01
COST = ("Q", "R", "S")
"""Columns of cost, low, likely, high."""


@pytest.fixture(scope="module")
def made() -> tuple[Design, Estimate, Variations]:
    return hazel_priced()


@pytest.fixture(scope="module")
def raw(made: tuple[Design, Estimate, Variations]) -> bytes:
    designed, estimate, variations = made
    return write_workbook(designed.job.title, estimate, variations)


def by_name(sheet: Any) -> dict[str, int]:
    """Row of every name in the first column, without the capital it opens with."""
    return {str(cell.value).lower(): cell.row for cell in sheet["A"] if cell.value is not None}


def check_totals(sheet: Any, estimate: Estimate) -> None:
    rows = by_name(sheet)
    for group in estimate.groups:
        for column, cost in zip(COST, group.cost, strict=True):
            assert sheet[f"{column}{rows[f'sum of {group.group}']}"].value == pytest.approx(cost, abs=CENT)
    for column, cost in zip(COST, estimate.works, strict=True):
        assert sheet[f"{column}{rows['all lines']}"].value == pytest.approx(cost, abs=CENT)
    for words, amount in (
        ("at risk", estimate.at_risk),
        ("contingency", estimate.contingency),
        (estimate.tax_name.lower(), estimate.tax_sum),
        ("likely total", estimate.total),
    ):
        # The tax has a cell of its own at the head of the sheet: the last row of that name is its sum.
        row = max(cell.row for cell in sheet["A"] if str(cell.value).lower() == words)
        assert sheet[f"R{row}"].value == pytest.approx(amount, abs=CENT), words


def test_the_same_bytes_every_time(made: tuple[Design, Estimate, Variations], raw: bytes) -> None:
    designed, estimate, variations = made
    assert write_workbook(designed.job.title, estimate, variations) == raw


def test_every_cost_is_a_formula_and_every_price_a_marked_cell(
    made: tuple[Design, Estimate, Variations], raw: bytes
) -> None:
    _, estimate, _ = made
    sheet = openpyxl.load_workbook(BytesIO(raw))["Estimate"]
    rows = by_name(sheet)
    marked = sheet["B3"].fill.fgColor.rgb
    for line in estimate.lines:
        row = rows[line.item.name.lower()]
        assert all(str(sheet[f"{column}{row}"].value).startswith("=") for column in "CDEJKLQRS")
        assert {sheet[f"{column}{row}"].fill.fgColor.rgb for column in "FGHIMNOP"} == {marked}
    for words in ("all lines", "contingency", "likely total"):
        assert str(sheet[f"R{rows[words]}"].value).startswith("=")


def test_words_are_never_a_formula(made: tuple[Design, Estimate, Variations]) -> None:
    """A name that opens with an equals sign is a name."""
    designed, estimate, _ = made
    line = estimate.lines[0]
    sly = replace(line, item=replace(line.item, name="=1+1", note="=HYPERLINK(1)"))
    book = openpyxl.load_workbook(
        BytesIO(write_workbook(designed.job.title, replace(estimate, lines=(sly, *estimate.lines[1:]))))
    )
    assert {cell.data_type for cell in (book["Bill"]["B2"], book["Bill"]["I2"])} == {"s"}


@pytest.mark.programs
def test_calc_works_out_the_same_totals(made: tuple[Design, Estimate, Variations], raw: bytes, tmp_path: Path) -> None:
    _, estimate, variations = made
    book = recalculated(raw, tmp_path)
    sheet = book["Estimate"]
    check_totals(sheet, estimate)
    rows = by_name(sheet)
    for line in estimate.lines:
        row = rows[line.item.name.lower()]
        for column, cost in zip(COST, line.cost or (None, None, None), strict=True):
            found = sheet[f"{column}{row}"].value
            assert (found in (None, "")) if cost is None else found == pytest.approx(cost, abs=CENT), line.item.key
    last = book["Since the quote"].max_row
    sums = [book["Since the quote"].cell(last, column).value for column in (9, 10, 11, 12)]
    assert sums[:2] == pytest.approx([variations.then, variations.now], abs=CENT)
    assert sums[2] + sums[3] == pytest.approx(variations.difference, abs=CENT)


@pytest.mark.programs
def test_what_is_typed_over_is_followed(made: tuple[Design, Estimate, Variations], raw: bytes, tmp_path: Path) -> None:
    """Tax, contingency, a price, an amount, a waste and a missing price typed over; the same in our own sums."""
    designed, estimate, _ = made
    book = openpyxl.load_workbook(BytesIO(raw))
    bill, sheet = book["Bill"], book["Estimate"]
    sheet["B3"], sheet["B4"] = 0.1, 0.25
    rows, keys = by_name(sheet), {cell.value: cell.row for cell in bill["A"]}
    for column, amount in zip("MNO", (170.0, 180.0, 200.0), strict=True):
        sheet[f"{column}{rows['stone.edge']}"] = amount
        sheet[f"{column}{rows['chamber']}"] = 400.0
    for column, amount in zip("DEF", (800.0, 1800.0, 2600.0), strict=True):
        bill[f"{column}{keys['stone.cover']}"] = amount
    sheet[f"F{rows['lining.fleece']}"] = 0.08
    kept = BytesIO()
    book.save(kept)

    job, changed = designed.job, []
    for each in job.price_list:
        if each.item == "stone.*":
            own = replace(each, item="stone.edge", price=(170.0, 180.0, 200.0))
            changed += [each, own]
        elif each.item == "chamber":
            changed.append(replace(each, price=(400.0, 400.0, 400.0)))
        elif each.item == "lining.fleece":
            changed.append(replace(each, waste=0.08))
        else:
            changed.append(each)
    items = tuple(
        replace(each, low=800.0, amount=1800.0, high=2600.0) if each.key == "stone.cover" else each
        for each in items_of(designed)
    )
    terms = replace(job.money, tax=0.1, contingency=0.25)
    ours = price(replace(job, price_list=tuple(changed), money=terms), items)
    assert ours.total != pytest.approx(estimate.total, rel=0.01)
    check_totals(recalculated(kept.getvalue(), tmp_path)["Estimate"], ours)
