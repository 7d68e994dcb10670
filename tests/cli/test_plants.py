"""Choosing plants at a terminal."""

import pytest
from typer.testing import CliRunner

from beckwright.cli.commands import app
from beckwright.cli.plants import chosen, month_of
from beckwright.tables.plants import PLANTS


def ask(*words: str) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, ["plants", *words])
    return result.exit_code, result.stdout, result.stderr


def names(told: str) -> list[str]:
    return [line.split("  ")[0] for line in told.splitlines()[1:] if line and not line.startswith(" ")][: len(PLANTS)]


def test_all_of_them_fit_a_terminal() -> None:
    code, told, _ = ask()
    assert code == 0
    assert f"{len(PLANTS)} of {len(PLANTS)} plants." in told
    assert max(map(len, told.splitlines())) <= 110


@pytest.mark.parametrize(
    ("words", "first", "missing"),
    [
        (("--zone", "wet"), "Caltha palustris", "Thymus polytrichus"),
        (("--light", "part-shade"), "Athyrium filix-femina", "Thymus polytrichus"),
        (("--height-to", "100"), "Thymus polytrichus", "Caltha palustris"),
        (("--flowers-in", "march"), "Caltha palustris", "Mentha aquatica"),
        (("--flowers-in", "10"), "Mentha aquatica", "Caltha palustris"),
        (("--for-pollinators",), "Lythrum salicaria", "Juncus effusus"),
        (("--no-toxic",), "Veronica beccabunga", "Caltha palustris"),
        (("--native",), "Osmunda regalis", "Iris sibirica"),
        (("--jurisdiction", "usa"), "Caltha palustris", "Lythrum salicaria"),
    ],
)
def test_each_wish_leaves_out_what_it_should(words: tuple[str, ...], first: str, missing: str) -> None:
    code, told, _ = ask(*words)
    table = told.split("\n\n", maxsplit=1)[0]
    assert code == 0
    assert first in table
    assert missing not in table


def test_a_jurisdiction_names_its_lists() -> None:
    _, told, _ = ask("--jurisdiction", "England", "--zone", "wet")
    flat = " ".join(told.split())
    assert "On lists in England:" in flat
    assert "6 April 2014, not to be sold: Azolla filiculoides, Crassula helmsii" in flat


def test_wishes_nobody_can_meet() -> None:
    code, told, _ = ask("--zone", "wet", "--height-to", "1")
    assert code == 0
    assert "Leave one of the wishes out" in told


@pytest.mark.parametrize(
    ("words", "said"), [(("--flowers-in", "Yule"), "no month"), (("--jurisdiction", "Mars"), "Known are England")]
)
def test_what_nobody_knows_is_refused(words: tuple[str, ...], said: str) -> None:
    code, _, complaint = ask(*words)
    assert code == 2
    assert said in complaint


@pytest.mark.parametrize(
    ("told", "month"),
    [("1", 1), ("12", 12), ("Jun", 6), ("june", 6), ("ju", None), ("13", None), ("0", None), ("", None)],
)
def test_months(told: str, month: int | None) -> None:
    assert month_of(told) == month


def test_no_wish_leaves_none_out() -> None:
    assert (
        chosen(
            zone=None,
            light=None,
            height_to=None,
            month=None,
            for_pollinators=False,
            no_toxic=False,
            native=False,
            place=None,
        )
        == PLANTS
    )
