"""prices.csv, quote.csv and the section on money as people write them, sound and unsound."""

import shutil
from datetime import date
from pathlib import Path

import pytest

from beckwright.base.errors import JobError
from beckwright.job.read import read_job

EXAMPLES = Path(__file__).parents[2] / "examples"
HEAD = "item,unit,holds,bulk_kg_m3,low,price,high,tax_included,date,waste_percent\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Larkspur Court, which has no prices of its own, its lorry's taken out."""
    shutil.copytree(EXAMPLES / "larkspur_court", tmp_path / "job")
    path = tmp_path / "job" / "job.toml"
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    path.write_text("".join(line for line in lines if not line.startswith("load_price")), encoding="utf-8")
    return tmp_path / "job"


def prices(folder: Path, *rows: str) -> None:
    (folder / "prices.csv").write_text(HEAD + "\n".join(rows) + "\n", encoding="utf-8")


def money(folder: Path, *lines: str) -> None:
    path = folder / "job.toml"
    text = path.read_text(encoding="utf-8").split("[money]")[0]
    path.write_text(text + "\n[money]\n" + "\n".join(lines) + "\n", encoding="utf-8")


def problems(folder: Path) -> str:
    with pytest.raises(JobError) as refused:
        read_job(folder)
    return str(refused.value)


def test_a_job_without_prices_has_none(folder: Path) -> None:
    job = read_job(folder)
    assert (job.price_list, job.quote) == ((), ())


def test_a_row_becomes_si(folder: Path) -> None:
    """A bulk bag of 0.8 t is 800 kg; 5 % is 0.05; a price alone is its own low and high."""
    prices(
        folder,
        "stone.*,bulk bag,0.8 t,1600,70,75,82,yes,2026-08-21,5",
        "crates,each,,,,31,,,,",
        "chamber,each,,,,,,,,",
        "planting.compost,bag,50 litre,,,6.5,,yes,,",
    )
    stone, crates, chamber, compost = read_job(folder).price_list
    assert (stone.sold.word, stone.sold.holds, stone.sold.measure, stone.sold.whole) == ("bulk bag", 800.0, "kg", True)
    assert (stone.price, stone.tax_included, stone.date) == ((70.0, 75.0, 82.0), True, date(2026, 8, 21))
    assert stone.waste == pytest.approx(0.05)
    assert (crates.price, crates.tax_included) == ((31.0, 31.0, 31.0), None)
    assert chamber.price is None
    assert (compost.sold.holds, compost.sold.measure) == (pytest.approx(0.05), "m3")


@pytest.mark.parametrize(
    ("row", "found", "remedy"),
    [
        ("stone.*,bulk bags,0.8 t,,,75,,,,", 'unit is "bulk bags"', 'Did you mean "bulk bag"'),
        ("stone.*,t,0.8 t,,,75,,,,", 'holds is "0.8 t" for the unit t', "Take it out"),
        ("stone.*,bulk bag,lots,,,75,,,,", 'holds is "lots"', "0.8 t or 25 m"),
        ("stone.*,bulk bag,0 t,,,75,,,,", 'holds is "0 t"', "0.8 t or 25 m"),
        ("stone.*,t,,,80,75,70,,,", "low, price and high are 80, 75 and 70", "wrong way round"),
        ("stone.*,t,,,70,,,,,", "low or high is given and price is empty", "likely price"),
        ("stone.*,t,,,,75,,maybe,,", 'tax_included is "maybe"', "yes or no"),
        ("stone.*,t,,,,75,,,21.8.2026,", 'date is "21.8.2026"', "2026-09-01"),
        ("stone.*,t,,,,-75,,,,", "price is -75", "slip of the point"),
        ("stone.*,t,,,,75,,,,\nstone.*,t,,,,76,,,,", 'item "stone.*" stood on line 2 before', "Keep one"),
    ],
)
def test_a_bad_row_is_told_with_its_line(folder: Path, row: str, found: str, remedy: str) -> None:
    prices(folder, row)
    told = problems(folder)
    assert "prices.csv line" in told
    assert found in told
    assert remedy in told


def test_a_quote_is_of_whole_keys(folder: Path) -> None:
    (folder / "quote.csv").write_text("item,amount,unit,rate\nstone.*,3,t,150\n", encoding="utf-8")
    assert "A quoted line is one item" in problems(folder)
    (folder / "quote.csv").write_text("item,amount,unit,rate\nstone.edge,3,t,150\n", encoding="utf-8")
    (row,) = read_job(folder).quote
    assert (row.item, row.amount, row.rate, row.sold.holds) == ("stone.edge", 3.0, 150.0, 1000.0)


def test_a_tax_wants_to_know_which_prices_hold_it(folder: Path) -> None:
    prices(folder, "stone.*,t,,,,75,,,,")
    money(folder, "tax_percent = 20")
    assert "money.prices_include_tax" in problems(folder)
    money(folder, "tax_percent = 20", "prices_include_tax = false")
    assert read_job(folder).money.tax == pytest.approx(0.20)


def test_a_tax_no_price_asks_about_is_taken(folder: Path) -> None:
    prices(folder, "stone.*,t,,,,75,,no,,")
    money(folder, "tax_percent = 20")
    assert read_job(folder).money.prices_include_tax is None


def test_prices_with_and_without_a_tax_nobody_told(folder: Path) -> None:
    prices(folder, "stone.*,t,,,,75,,yes,,", "crates,each,,,,31,,no,,")
    assert "some prices hold tax and some do not" in problems(folder)


def test_a_group_told_twice(folder: Path) -> None:
    money(folder, 'risky_groups = ["stone", "lining", "stone"]')
    assert '"stone" stands twice' in problems(folder)


def test_a_group_that_is_none(folder: Path) -> None:
    money(folder, 'risky_groups = ["stones"]')
    assert "risky_groups" in problems(folder)
