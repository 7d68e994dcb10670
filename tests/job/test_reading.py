"""Reading sound jobs: the examples, the same numbers in other dress, and the schema that describes them."""

import json
import subprocess
import sys
import time
import tomllib
from datetime import date
from math import pi
from pathlib import Path
from typing import Any

import jsonschema
import numpy as np
import pytest

from beckwright.job.model import Job, Pool, Run, Step
from beckwright.job.new import write_new
from beckwright.job.read import read_job
from beckwright.job.schema import schema
from beckwright.job.written import Written

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = sorted(path.name for path in EXAMPLES.iterdir() if (path / "job.toml").exists())


@pytest.fixture(scope="module")
def hazel() -> Job:
    return read_job(EXAMPLES / "hazel_bank")


def test_the_four_examples_are_there() -> None:
    assert NAMES == ["fennymoor_park", "hazel_bank", "larkspur_court", "withy_lane"]


@pytest.mark.parametrize("name", NAMES)
def test_an_example_reads_and_says_it_is_invented(name: str) -> None:
    assert read_job(EXAMPLES / name).title.invented
    for path in (EXAMPLES / name).iterdir():
        if path.name in ("job.toml", "survey.csv", "pumps.csv", "hoses.csv", "climate.csv", "edges.csv"):
            assert "nvented data" in path.read_text()[:200], path


SUMS = {"larkspur_court": (6, 0.60), "hazel_bank": (18, 1.60), "fennymoor_park": (60, 5.00), "withy_lane": (14, 1.10)}


@pytest.mark.parametrize(("name", "length", "fall"), [(name, *sums) for name, sums in SUMS.items()])
def test_lengths_and_falls_are_those_of_the_brief(name: str, length: float, fall: float) -> None:
    """Sums by hand, in each example's HAND.md."""
    course = read_job(EXAMPLES / name).course
    assert sum(reach.length for reach in course.reaches if isinstance(reach, Run | Pool)) == pytest.approx(length)
    falls = [
        reach.fall if isinstance(reach, Run) else reach.drop for reach in course.reaches if not isinstance(reach, Pool)
    ]
    assert sum(falls) == pytest.approx(fall)


def test_units_become_si(hazel: Job) -> None:
    """Each written number of Hazel Bank times its unit, by hand."""
    step = hazel.course.reaches[1]
    assert isinstance(step, Step)
    assert (step.name, step.drop, step.lip_width, step.lip) == (
        "lip 1",
        pytest.approx(0.24),
        pytest.approx(0.6),
        "round edge",
    )
    assert [(one.name, round(one.flow * 3.6e6)) for one in hazel.flows] == [
        ("trickle", 1500), ("everyday", 4500), ("full", 9000), ("party", 12000)
    ]  # fmt: skip
    assert hazel.source.hose_outlet == pytest.approx(101.75)
    assert hazel.reservoir.overflow == hazel.reservoir.rested == pytest.approx(99.46)
    assert hazel.reservoir.fill_depth == pytest.approx(0.80)
    assert hazel.reservoir.cover_weight == pytest.approx(15_700)
    assert hazel.reservoir.loads[0].force == pytest.approx(980.665)
    assert hazel.prices.energy == pytest.approx(0.27 / 3.6e6)
    assert hazel.running[0].time == pytest.approx(9.35 * 183 * 3600)
    assert hazel.site.trees[0].stems == (pytest.approx(0.62),)
    assert hazel.pumps.chosen.flows[-1] == pytest.approx(20 / 3600)
    assert hazel.climate is not None
    assert hazel.climate.rain.sum() == pytest.approx(0.618)
    assert hazel.climate.evaporation.sum() == pytest.approx(0.647)
    assert hazel.course.settlement == pytest.approx(0.10)
    assert not hazel.course.line.flags.writeable


def test_a_turn_is_radians(tmp_path: Path) -> None:
    write_new(tmp_path)
    text = (tmp_path / "job.toml").read_text().replace("turned_deg = 0", "turned_deg = 30")
    (tmp_path / "job.toml").write_text(text)
    assert read_job(tmp_path).reservoir.turned == pytest.approx(pi / 6)


def test_withy_lane_keeps_its_edges_and_its_answers_apart() -> None:
    job = read_job(EXAMPLES / "withy_lane")
    assert job.course.measured_edges is not None
    assert len(job.course.measured_edges.chainages) == 29
    assert job.course.measured_edges.left[18] == 48.376
    written = (EXAMPLES / "withy_lane" / "job.toml").read_text().lower()
    assert not any(
        answer in written for answer in ("0.15,", "2.6,", "bypass", "weeps", "truth", "below the running water")
    )


def test_larkspur_terraces_are_breaklines() -> None:
    survey = read_job(EXAMPLES / "larkspur_court").survey
    assert [len(line) for line in survey.breaklines] == [5, 5, 5, 5]
    foot, head, *_ = survey.breaklines
    assert np.allclose(survey.levels[list(head)] - survey.levels[list(foot)], 0.2, atol=0.002)


def test_a_run_without_length_takes_what_is_left(tmp_path: Path) -> None:
    """Chords of the new job's line by Pythagoras, less the 4.5 m of its other reaches."""
    write_new(tmp_path)
    last = read_job(tmp_path).course.reaches[-1]
    chords = (2**2 + 0.5**2) ** 0.5 + (2**2 + 0.3**2) ** 0.5 + (2**2 + 0.8**2) ** 0.5 + (2**2 + 0.2**2) ** 0.5
    assert isinstance(last, Run)
    assert last.length == pytest.approx(chords - 4.5)


DRESSES = {
    "byte-order mark": lambda text: "\ufeff" + text,
    "Windows line ends": lambda text: text.replace("\n", "\r\n"),
    "old line ends": lambda text: text.replace("\n", "\r"),
    "semicolons and decimal commas": lambda text: text.replace(",", ";").replace(".", ","),
    "tabs": lambda text: text.replace(",", "\t"),
    "spaces": lambda text: text.replace(",", "  "),
    "comments and empty lines": lambda text: "# shot in drizzle\n\n" + text + "\n# end\n",
    "capitals in the heading": lambda text: text.replace("id,x_m", "ID, X_M"),
    "columns turned round": lambda text: "\n".join(",".join(reversed(row.split(","))) for row in text.split("\n")),
    "a column more": lambda text: "\n".join(row + ",shot" if row else row for row in text.split("\n")),
}


@pytest.mark.parametrize("dress", DRESSES)
def test_a_survey_in_another_dress_is_the_same_survey(tmp_path: Path, dress: str) -> None:
    write_new(tmp_path)
    plain = read_job(tmp_path).survey
    path = tmp_path / "survey.csv"
    rows = "\n".join(row for row in path.read_text().split("\n") if not row.startswith("#"))
    path.write_bytes(DRESSES[dress](rows).encode())
    assert read_job(tmp_path).survey == plain


def test_job_file_with_windows_line_ends_and_mark(tmp_path: Path) -> None:
    write_new(tmp_path)
    plain = read_job(tmp_path)
    path = tmp_path / "job.toml"
    path.write_bytes(("\ufeff" + path.read_text()).replace("\n", "\r\n").encode())
    assert read_job(tmp_path) == plain


def test_a_large_survey_reads_quickly(tmp_path: Path) -> None:
    """100 000 points in about a second on the builder's laptop: over twenty of the processor is a fault here."""
    write_new(tmp_path)
    shot = np.random.default_rng(1).uniform(0, 1, (100_000, 3)) * [40, 30, 2] + [-14, -15, 9]
    _, first = np.unique(np.round(shot[:, :2] / 0.02), axis=0, return_index=True)
    cells = np.round(shot[first, :2] / 0.02) * 0.02
    rows = [f"p{place},{x:.2f},{y:.2f},{z:.3f},GL\n" for place, (x, y, z) in enumerate(np.c_[cells, shot[first, 2]])]
    (tmp_path / "survey.csv").write_text("id,x_m,y_m,z_m,code\n" + "".join(rows))
    begun = time.process_time()
    assert len(read_job(tmp_path).survey.levels) == len(rows)
    assert time.process_time() - begun < 20


def test_many_shots_on_one_spot_are_refused_quickly(tmp_path: Path) -> None:
    """A tree of equal points would be searched for an hour."""
    from beckwright.base.errors import JobError

    write_new(tmp_path)
    (tmp_path / "survey.csv").write_text("id,x_m,y_m,z_m\n" + "".join(f"p{row},1,1,1\n" for row in range(50_000)))
    begun = time.perf_counter()
    with pytest.raises(JobError, match="lies on point"):
        read_job(tmp_path)
    assert time.perf_counter() - begun < 10


def test_new_writes_over_nothing(tmp_path: Path) -> None:
    from beckwright.base.errors import JobError

    (tmp_path / "pumps.csv").write_text("mine")
    with pytest.raises(JobError, match=r"pumps\.csv: it is there already"):
        write_new(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["pumps.csv"]
    assert (tmp_path / "pumps.csv").read_text() == "mine"


@pytest.mark.parametrize("name", NAMES)
def test_written_round_trip(name: str) -> None:
    """What is read, written out and read again is the same: the model loses nothing."""
    given = tomllib.loads((EXAMPLES / name / "job.toml").read_text())
    written = Written.model_validate(given)
    assert Written.model_validate(written.model_dump(exclude_none=True)) == written


def test_schema_describes_every_key_with_its_unit() -> None:
    text = schema()
    assert json.loads(json.dumps(text)) == text
    sections = [text, *text["$defs"].values()]
    keys = {(part["title"], key): held for part in sections for key, held in part["properties"].items()}
    assert len(keys) > 100
    assert [key for key, held in keys.items() if not held.get("description")] == []
    suffixes = ("_mm", "_m", "_l_h", "_kpa", "_kn", "_kg", "_m3", "_m2", "_percent", "_deg", "_c")
    assert [key for key, held in keys.items() if key[1].endswith(suffixes) and not held.get("unit")] == []
    assert all(part.get("additionalProperties") is False for part in sections)


def test_importing_the_room_is_light() -> None:
    heavy = "{'numpy', 'pydantic', 'scipy', 'shapely'}"
    code = f"import sys, beckwright.job; sys.exit(not {heavy}.isdisjoint(sys.modules))"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def as_json(written: str) -> dict[str, Any]:
    """What a TOML file holds, its dates as the text JSON would hold."""
    given: dict[str, Any] = json.loads(json.dumps(tomllib.loads(written), default=date.isoformat))
    return given


@pytest.mark.parametrize("folder", NAMES)
def test_the_schema_says_yes_to_every_example(folder: str) -> None:
    """By an independent validator of JSON Schema 2020-12; TOML's dates are told as the text JSON would hold."""
    given = as_json((EXAMPLES / folder / "job.toml").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema())
    jsonschema.validate(given, schema(), cls=jsonschema.Draft202012Validator)


def test_the_schema_says_no_to_a_misspelt_key() -> None:
    given = as_json((EXAMPLES / "hazel_bank" / "job.toml").read_text(encoding="utf-8"))
    given["course"]["reaches"][1]["dropmm"] = 240
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(given, schema(), cls=jsonschema.Draft202012Validator)


def test_what_a_new_job_holds_behind_a_hash_reads_once_it_is_taken_away(tmp_path: Path) -> None:
    write_new(tmp_path / "mine")
    path = tmp_path / "mine" / "job.toml"
    live, _, later = path.read_text(encoding="utf-8").partition("# When you come to it")
    opened = "\n".join(line.removeprefix("#").removeprefix(" ") for line in later.splitlines()[1:])
    path.write_text(f"{live}\n{opened}\n", encoding="utf-8")
    job = read_job(tmp_path / "mine")
    assert job.force.start == date(2026, 4, 13)
    assert job.lining.rolls == (3.0, 4.0, 5.0)
    assert [mark.name for mark in job.site.marks] == ["M1, house corner"]
