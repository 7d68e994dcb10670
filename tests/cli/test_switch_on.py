"""Switch-on at the command line: expected beside seen, an exit that says what is likely, and keeping."""

import json
import shutil
from hashlib import sha256
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from beckwright.cli import app
from beckwright.job.read import read_job
from beckwright.site import Keeper

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def run(*words: object) -> Result:
    return CliRunner().invoke(app, ["readings", "switch-on", *(str(word) for word in words)])


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of Hazel Bank with buckets at one setting: short, so that it is quick."""
    copy = Path(shutil.copytree(EXAMPLES / "hazel_bank", tmp_path / "hazel_bank"))
    rows = ["bucket,everyday,,20,19.8,", "bucket,everyday,,20,20.2,", "bucket,everyday,,20,20.0,"]
    (copy / "switch_on.csv").write_text("kind,flow,place,amount,seconds,note\n" + "\n".join(rows) + "\n")
    return copy


def test_readings_that_fit_end_with_nought_and_nothing_is_written(folder: Path) -> None:
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    told = run(folder)
    assert told.exit_code == 0, told.output
    assert "bucket of 20 L at everyday" in told.stdout
    assert "Next reading:" in told.stdout
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before


def test_json_says_the_same_in_si(folder: Path) -> None:
    told = json.loads(run(folder, "--json").stdout)
    low, middle, high = next(each for each in told["settings"] if each["flow"] == "everyday")["flow_m3_s"]["after"]
    # By hand: 20 L in 20 s.
    assert low <= 1e-3 <= high
    assert low < middle < high
    assert sum(each["chance"] for each in told["causes"]) == pytest.approx(1.0)
    assert told["digest"] == sha256((folder / "switch_on.csv").read_bytes()).hexdigest()
    assert [each["unit"] for each in told["readings"]] == ["s"] * 3


def test_a_half_shut_valve_ends_with_one(folder: Path) -> None:
    shutil.copy(EXAMPLES / "hazel_bank" / "switch_on.csv", folder)
    told = run(folder)
    assert told.exit_code == 1, told.output
    assert "hose kinked" in told.stdout
    assert "outside" in told.stdout


def test_keeping_shows_what_changes_and_the_keeper_has_both(folder: Path) -> None:
    before = (folder / "job.toml").read_text()
    told = run(folder, "--keep")
    assert "Changes job.toml" in told.stdout
    assert "Kept as revision" in told.stdout
    flows = {each.name: each.flow * 3.6e6 for each in read_job(folder).flows}
    assert flows["everyday"] == pytest.approx(3600, rel=0.02)
    assert flows["full"] == pytest.approx(9000)
    with Keeper(folder) as keeper:
        assert keeper.at(keeper.standing().revision.number - 1) == before


def test_what_cannot_be_read_ends_with_two(folder: Path) -> None:
    assert run(folder, folder / "none.csv").exit_code == 2
    (folder / "switch_on.csv").write_text("kind,flow,place,amount,seconds,note\nbucket,fll,,20,x,\n")
    told = run(folder)
    assert told.exit_code == 2
    assert "Traceback" not in told.output
