"""The command that takes somebody's survey file: what it tells, asks, writes, and ends with."""

from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from beckwright.cli import app
from beckwright.job.tables import read_survey
from beckwright.survey import written
from tests.survey.import_files import bank, write_las

LIST = """Pt;Easting;Northing;Level;Code
1;451010,20;207005,30;99,41;Ground
2;451020,20;207005,30;99,61;Ground
3;451030,20;207015,30;99,91;Top of bank 1
4;451035,20;207025,30;99,95;TOB1
5;451031,20;207025,30;100,1;tree oak 0.62
6;451031,20;207035,30;100,1;MH
7;451003,20;207037,30;0;zebra
"""


def run(*words: object) -> Result:
    return CliRunner().invoke(app, ["survey", "import", *map(str, words)])


@pytest.fixture
def given(tmp_path: Path) -> Path:
    path = tmp_path / "garden.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


def test_what_was_understood_is_told_and_what_is_not_sure_is_asked(given: Path) -> None:
    ran = run(given, "--into", given.parent / "survey.csv")
    assert ran.exit_code == 1
    told = " ".join(ran.stdout.split())
    for words in (
        "garden.csv: a list of points, 7 points",
        "x 451 003.20 m to 451 035.20 m",
        "Top of bank 1 TOP1 1",
        "zebra as it is 1",
        "The file names no unit: it was taken for metres.",
        "1 point coded TREE: was the staff on the ground at its stem?",
        "2 questions: 1. The survey lies at x 451 003, y 207 005 m",
        "--shift 451000,207000 taken off every x and y",
        "1 level lies far off those around: line 8 at 0.00 m.",
    ):
        assert " ".join(words.split()) in told
    assert "Nothing was written" in ran.stderr
    assert [path.name for path in given.parent.iterdir()] == ["garden.csv"]


def test_the_options_asked_for_answer(given: Path) -> None:
    into = given.parent / "survey.csv"
    options = ("--shift", "451000,207000", "--outliers", "leave-out", "--join-lines")
    ran = run(given, "--into", into, *options)
    assert ran.exit_code == 0, ran.output
    assert ran.stdout.endswith(f"{into}\n")
    assert '[[trees]]\nname = "T1"\nspecies = "oak"\nx_m = 31.200\ny_m = 25.300\nstem_mm = 620\n' in ran.stdout
    survey = read_survey(into, [])
    assert survey is not None
    assert survey.breaklines == ((4, 5),)
    again = run(given, "--into", into, *options)
    assert again.exit_code == 2
    assert "it is there already" in again.stderr


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--shift", "far"), "--shift is far: write 2 numbers"),
        (("--window", "1,2,3"), "--window is 1,2,3: write 4 numbers"),
        (("--columns", "id,x,y"), "z is not named"),
    ],
)
def test_options_that_cannot_be(given: Path, options: tuple[str, ...], words: str) -> None:
    ran = run(given, "--into", given.parent / "survey.csv", *options)
    assert ran.exit_code == 2
    assert words in ran.stderr


def test_a_decimal_said_wrong_is_found_out(given: Path) -> None:
    """With commas parting thousands the eastings would be 45101020 m: the survey reader's bounds say so."""
    ran = run(given, "--into", given.parent / "survey.csv", "--decimal", "point", "--unit", "m", "--shift", "none")
    assert ran.exit_code in (1, 2)
    assert not (given.parent / "survey.csv").exists()


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    ran = run(tmp_path / "nothing.csv", "--into", tmp_path / "survey.csv")
    assert ran.exit_code == 2
    assert "nothing.csv: it cannot be opened" in ran.stderr


def test_a_scan_is_told_and_written(tmp_path: Path) -> None:
    ran = run(write_las(tmp_path / "a.laz", bank(5000)), "--into", tmp_path / "survey.csv", "--points", 200)
    assert ran.exit_code == 0, ran.output
    assert "Thinned to one point in" in ran.stdout
    survey = read_survey(tmp_path / "survey.csv", [])
    assert survey is not None
    assert 100 < len(survey.points) <= 200


def test_stopped_by_hand_nothing_is_left(given: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(written, "read_survey", stopped)
    ran = run(given, "--into", given.parent / "survey.csv", "--shift", "none", "--outliers", "keep")
    assert ran.exit_code != 0
    assert [path.name for path in given.parent.iterdir()] == ["garden.csv"]
