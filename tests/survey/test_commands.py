"""The survey words as typed: what they print, and what they end with."""

from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from beckwright.cli import app

LEVELS = (
    "point,back_m,intermediate_m,fore_m,level_m\nA,1.500,,,100\nP,,1.200,,\nCP,1.400,,1.300,\nQ,,1.250,,\nA,,,1.604,\n"
)
MARKS = "point,x_m,y_m\nA,0,0\nB,12,0\nC,0,9\n"
TAPES = (
    "from,to,distance_m,kind,point,along_m,offset_m,side\nA,P,5.0\nB,P,9.849\nC,P,5.831\nA,B,,,P,,,left\n"
    "A,B,,,Q,6,2,right\n"
)


@pytest.fixture
def books(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name, text in (("levels.csv", LEVELS), ("tapes.csv", TAPES), ("marks.csv", MARKS)):
        (tmp_path / name).write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    return tmp_path


def survey(words: str) -> Result:
    return CliRunner().invoke(app, ["survey", *words.split()])


def change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_levels_that_close(books: Path) -> None:
    ran = survey("levels levels.csv")
    assert ran.exit_code == 0
    rows = [line.split() for line in ran.stdout.splitlines()]
    assert ["CP", "1.400", "1.300", "0.100", "101.600", "100.200", "100.202", "1.5"] in rows
    assert "misses by −4.0 mm, 7.1 mm allowed: shared out, 2.0 mm for each set-up." in " ".join(ran.stdout.split())
    assert [row[-1] for row in rows if row and row[0].startswith("Σ")] == ["yes"] * 3
    assert max(map(len, ran.stdout.splitlines())) <= 80


def test_levels_that_do_not(books: Path) -> None:
    change(books / "levels.csv", "1.604", "1.500")
    ran = survey("levels levels.csv")
    assert ran.exit_code == 1
    assert "refused" in ran.stdout
    assert "misread by 0.1 m" in ran.stdout
    assert survey("levels levels.csv --by total --tolerance-mm 150").exit_code == 0


def test_levels_that_cannot_be_read(books: Path) -> None:
    change(books / "levels.csv", ",,,100", ",,,")
    ran = survey("levels levels.csv")
    assert ran.exit_code == 2
    assert "1 problem:" in ran.stderr
    assert survey("levels levels.csv --by total").exit_code == 2


def test_a_laser_is_less_sure_than_a_level(books: Path) -> None:
    """1.5 mm a reading is what a level is taken for."""
    one, other = (survey(f"levels levels.csv --instrument {which}").stdout for which in ("level", "laser"))
    stated = survey("levels levels.csv --reading-mm 1.5").stdout
    assert one == stated
    assert one != other


def test_tapes(books: Path) -> None:
    ran = survey("tapes tapes.csv --marks marks.csv")
    assert ran.exit_code == 0
    rows = [line.split() for line in ran.stdout.splitlines()]
    assert [row[:3] for row in rows if row and row[0] in "PQ"] == [["P", "3.000", "4.000"], ["Q", "6.000", "-2.000"]]
    assert "points-unchecked" in ran.stdout
    assert max(map(len, ran.stdout.splitlines())) <= 80


def test_a_tape_against_the_others(books: Path) -> None:
    change(books / "tapes.csv", "9.849", "9.349")
    ran = survey("tapes tapes.csv --marks marks.csv")
    assert ran.exit_code == 1
    assert "tape-against-others" in ran.stdout


def test_an_open_side(books: Path) -> None:
    change(books / "tapes.csv", "C,P,5.831\nA,B,,,P,,,left\n", "")
    ran = survey("tapes tapes.csv --marks marks.csv")
    assert ran.exit_code == 2
    assert "on the left or on the right" in " ".join(ran.stderr.split())


def test_slopes_need_levels_that_close(books: Path) -> None:
    change(books / "tapes.csv", "A,P,5.0\n", "A,P,5.009,slope\n")
    assert survey("tapes tapes.csv --marks marks.csv").exit_code == 2
    assert survey("tapes tapes.csv --marks marks.csv --levels levels.csv").exit_code == 0
    change(books / "levels.csv", "1.604", "1.500")
    assert survey("tapes tapes.csv --marks marks.csv --levels levels.csv").exit_code == 1


def test_join(books: Path) -> None:
    words = "join levels.csv tapes.csv --marks marks.csv --into survey.csv"
    ran = survey(words)
    assert ran.exit_code == 0
    written = (books / "survey.csv").read_text(encoding="utf-8").splitlines()
    assert written == [
        "id,x_m,y_m,z_m,code,breakline",
        "A,0.000,0.000,100.000,,",
        "P,3.000,4.000,100.302,,",
        "Q,6.000,-2.000,100.354,,",
    ]
    assert "Levelled and not taped: CP." in ran.stdout
    assert "Taped and not levelled: B, C." in ran.stdout
    assert survey(words).exit_code == 2
    assert (books / "survey.csv").read_text(encoding="utf-8").splitlines() == written


@pytest.mark.parametrize(("file", "old", "new"), [("levels.csv", "1.604", "1.500"), ("tapes.csv", "9.849", "9.349")])
def test_a_blunder_is_not_joined(books: Path, file: str, old: str, new: str) -> None:
    change(books / file, old, new)
    assert survey("join levels.csv tapes.csv --marks marks.csv --into survey.csv").exit_code == 1
    assert not (books / "survey.csv").exists()


def test_two_pegs() -> None:
    ran = survey("two-peg 1.425 1.210 1.552 1.344 --apart-m 40")
    assert ran.exit_code == 1
    assert "climbs 1.75 mm in 10 m" in ran.stdout
    assert survey("two-peg 1.425 1.210 1.552 1.338 --apart-m 40").exit_code == 0
    assert survey("two-peg 1.425 1.210 1.552 1.344 --apart-m 40 --beyond-m -20").exit_code == 2
