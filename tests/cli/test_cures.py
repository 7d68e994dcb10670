"""Cures at the command line: listed with what they change, one taken so that the keeper can take it back."""

import re
import shutil
import tomllib
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from beckwright.cli import app
from beckwright.site import Keeper, Saved

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "larkspur_court"


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return Path(shutil.copytree(EXAMPLE, tmp_path / "larkspur_court"))


def test_cures_are_listed_with_their_effects_and_nothing_is_written(folder: Path) -> None:
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    told = run("check", folder, "--cures")
    assert told.exit_code == run("check", folder).exit_code
    listed = told.stdout.split("Cures that were tried")[1]
    numbers = [int(each) for each in re.findall(r"^  (\d+)\. ", listed, re.MULTILINE)]
    assert numbers == list(range(1, len(numbers) + 1))
    assert len(numbers) >= 3
    assert " -> " in listed
    assert "gone: " in listed
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_a_cure_taken_stands_and_undo_takes_it_back(folder: Path) -> None:
    before = (folder / "job.toml").read_text()
    told = run("check", folder, "--take", 1)
    assert told.exit_code == 0, told.output
    after = (folder / "job.toml").read_text()
    changed = [key for key, held in tomllib.loads(after).items() if held != tomllib.loads(before)[key]]
    assert changed, "the cure is in the file"
    assert "revision 2" in told.stdout
    with Keeper(folder) as keeper:
        assert isinstance(keeper.undo("back-0001"), Saved)
    assert (folder / "job.toml").read_text() == before


def test_a_number_nobody_listed_changes_nothing(folder: Path) -> None:
    before = (folder / "job.toml").read_bytes()
    told = run("check", folder, "--take", 999)
    assert told.exit_code == 2
    assert "--cures" in told.stderr
    assert (folder / "job.toml").read_bytes() == before
