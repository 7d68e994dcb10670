"""beckwright money, as a person types it."""

import re
import shutil
from pathlib import Path

import openpyxl
import pytest
from typer.testing import CliRunner, Result

from beckwright.cli import app

EXAMPLES = Path(__file__).parents[2] / "examples"


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def test_the_estimate() -> None:
    ran = run("money", EXAMPLES / "hazel_bank")
    assert ran.exit_code == 0
    for words in ("Estimate of 2026-09-01, GBP, lines without VAT", "Likely total, GBP", "8 in 10 stay under"):
        assert words in ran.stdout
    assert "stay under the budget" in ran.stdout


def test_a_job_without_prices_lists_what_it_needs() -> None:
    ran = run("money", EXAMPLES / "withy_lane")
    assert ran.exit_code == 0
    assert "have no price and are in no sum" in ran.stdout
    assert "(pump.pg-120)" in ran.stdout


def test_since_the_quote() -> None:
    ran = run("money", EXAMPLES / "hazel_bank", "--since-quote")
    assert ran.exit_code == 0
    assert "hose.length.spiral_38" in ran.stdout
    assert "Difference" in ran.stdout


def test_without_a_quote_it_says_what_to_write() -> None:
    ran = run("money", EXAMPLES / "withy_lane", "--since-quote")
    assert ran.exit_code == 2
    assert "quote.csv" in ran.stderr


def test_a_workbook(tmp_path: Path) -> None:
    path = tmp_path / "estimate.xlsx"
    assert run("money", EXAMPLES / "hazel_bank", "--xlsx", path).exit_code == 0
    assert openpyxl.load_workbook(path).sheetnames == ["Bill", "Estimate", "Since the quote"]


def test_a_place_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    ran = run("money", EXAMPLES / "withy_lane", "--xlsx", tmp_path / "nowhere" / "estimate.xlsx")
    assert ran.exit_code == 2
    assert "Choose another place" in ran.stderr


@pytest.mark.parametrize("table", ["prices.csv", "quote.csv"])
def test_a_price_that_does_not_fit_is_refused_with_its_remedy(table: str, tmp_path: Path) -> None:
    job = tmp_path / "job"
    shutil.copytree(EXAMPLES / "hazel_bank", job)
    text = (job / table).read_text(encoding="utf-8")
    wrong = text.replace("pump.pg-200,each", "pump.pg-200,kg").replace("pump.pg-200,1,each", "pump.pg-200,1,kg")
    (job / table).write_text(wrong, encoding="utf-8")
    ran = run("money", job)
    assert ran.exit_code == 2
    assert "pump.pg-200 is sold by the kg and counted in each" in " ".join(ran.stderr.split())


def test_an_estimate_kept_as_quote_stands_as_quoted(tmp_path: Path) -> None:
    """A law: what is kept and held against itself differs by nothing; and it is never written over."""
    folder = tmp_path / "job"
    shutil.copytree(EXAMPLES / "hazel_bank", folder)
    (folder / "quote.csv").unlink()
    assert run("money", folder, "--keep-quote").exit_code == 0
    since = run("money", folder, "--since-quote").stdout
    assert "Nothing changed." in since
    assert re.search(r"Difference +0\.00", since)
    before = (folder / "quote.csv").read_bytes()
    again = run("money", folder, "--keep-quote")
    assert (again.exit_code, (folder / "quote.csv").read_bytes()) == (2, before)
