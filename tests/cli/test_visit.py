"""A first visit at a terminal."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from beckwright.cli.commands import app
from beckwright.job.read import read_job

SEEN = ("--length", "18", "--fall", "1.6", "--width", "0.6", "--look", "everyday", "--access", "1.2")


def ask(*words: str) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, ["visit", *words])
    return result.exit_code, result.stdout, result.stderr


def test_it_tells_ranges_what_moves_them_and_what_was_taken() -> None:
    code, told, _ = ask(*SEEN)
    assert code == 0
    for words in (
        "Water that must run",
        "L/h",
        "Hole for the reservoir",
        "Days of work",
        "Next: ",
        "by eye",
        "assumed",
    ):
        assert words in told
    assert "give the tariff" in told
    assert "Priced so far" not in told
    assert max(map(len, told.splitlines())) <= 110


def test_nothing_known_is_a_visit_too() -> None:
    code, told, _ = ask()
    assert code == 0
    assert "not known" in told


def test_prices_give_money() -> None:
    code, told, _ = ask(*SEEN, "--price", "energy=0.3", "--price", "stone=120", "--currency", "EUR")
    assert code == 0
    assert "A year of running costs" in told
    assert "EUR" in told
    assert "give the tariff" not in told


def test_it_writes_a_job_and_writes_over_nothing(tmp_path: Path) -> None:
    into = tmp_path / "stream"
    code, told, _ = ask(*SEEN, "--into", str(into))
    assert code == 0
    assert str(into / "job.toml") in told.replace("\n", "")
    assert read_job(into).site.access_width == pytest.approx(1.2)
    held = {path.name: path.read_bytes() for path in into.iterdir()}
    code, _, complained = ask("--into", str(into))
    assert code == 2
    assert "it is there already" in complained
    assert {path.name: path.read_bytes() for path in into.iterdir()} == held


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--length", "1"), "between 2 and 60 m"),
        (("--length", "10", "--fall", "6"), "falls between"),
        (("--price", "stone"), "a number"),
        (("--price", "gold=3"), "gold"),
        (("--measured", "length"), "no measurement"),
    ],
)
def test_what_cannot_be_is_said(words: tuple[str, ...], said: str) -> None:
    code, told, complained = ask(*words)
    assert (code, told) == (2, "")
    assert said in " ".join(complained.split())
