"""The sections on stone and on the chamber: what is read off other keys, what is refused, and units by hand."""

from dataclasses import replace as changed
from pathlib import Path

import pytest

from beckwright.base.errors import JobError
from beckwright.job.model import Job
from beckwright.job.new import write_new
from beckwright.job.read import read_job

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write_new(tmp_path)
    return tmp_path


def read(folder: Path, *lines: str) -> Job:
    path = folder / "job.toml"
    path.write_text(path.read_text() + "\n" + "\n".join(lines) + "\n")
    return read_job(folder)


def refused(folder: Path, *lines: str) -> str:
    with pytest.raises(JobError) as caught:
        read(folder, *lines)
    return str(caught.value)


def test_left_out_it_is_read_off_the_edge_stones(folder: Path) -> None:
    """A course as high as the smallest edge stone, as deep as the middle one; a cheek is the largest."""
    job = read(folder)
    small, large = job.materials.edge_stone_sizes
    work = job.stonework
    assert work.courses == 1
    assert (work.height, work.depth) == pytest.approx((small, (small + large) / 2))
    assert work.cheek == pytest.approx((large, 0.75 * large, 0.6 * large))
    assert work.chart == ()
    assert work.joint_fills == 3.0


def test_no_edge_stone_no_courses_and_no_cheeks(folder: Path) -> None:
    path = folder / "job.toml"
    text = path.read_text()
    kept = [line for line in text.splitlines() if not line.startswith("edge_stone_kg_m")]
    path.write_text("\n".join(kept).replace("[materials]", "[materials]\nedge_stone_kg_m = 0"))
    assert read(folder).stonework.courses == 0
    assert read_job(folder).stonework.cheek is None


def test_units(folder: Path) -> None:
    """By hand: mm, kg, t, cm2 and % into SI."""
    job = read(
        folder,
        "[stonework]",
        "courses = 2",
        "course_height_mm = 250",
        "course_depth_mm = 300",
        "cheek_mm = [700, 500, 400]",
        "waste_percent = 12",
        "lorry_t = 8",
        'joint = "mortar"',
        "lift_chart = [[1.5, 460], [3, 190]]",
        "[chamber]",
        "inside_mm = [550, 500]",
        "slots_cm2 = 620",
        "lid_kg = 38",
    )
    work, chamber = job.stonework, job.chamber
    assert (work.courses, work.height, work.depth) == (2, 0.25, 0.3)
    assert work.cheek == pytest.approx((0.7, 0.5, 0.4))
    assert (work.waste, work.lorry, work.joint_fills) == pytest.approx((0.12, 8000.0, 5.0))
    assert work.chart == ((1.5, 460.0), (3.0, 190.0))
    assert chamber.inside == pytest.approx((0.55, 0.5))
    assert chamber.slots == pytest.approx(0.062)
    assert chamber.lid == 38.0


def test_an_open_reservoir_is_its_own_chamber() -> None:
    job = read_job(EXAMPLES / "larkspur_court")
    assert job.chamber.inside == (job.reservoir.length, job.reservoir.width)
    assert changed(job.chamber, inside=None).inside is None


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        (("[stonework]", "lift_chart = [[3, 190], [1.5, 460]]"), ["1.5 m follows 3 m", "Sort its rows"]),
        (("[stonework]", "lift_chart = [[1.5, 190], [3, 460]]"), ["460 kg at 3 m", "lifts less"]),
        (("[stonework]", 'pools_bed = "pebles"'), ["pebles", 'Did you mean "pebbles"']),
        (("[stonework]", "cheek_mm = [400, 500, 700]"), ["400 by 500 by 700 mm", "Sort the three"]),
        (("[stonework]", "on_cover_mm = [400, 300, 350]"), ["on_cover_mm", "Sort the three"]),
        (("[stonework]", "lift_chart = [[1.5, -3]]"), ["lift_chart", "-3"]),
        (("[chamber]", "inside_mm = [5000, 500]"), ["inside_mm", "stands in the pit"]),
        (("[stonework]", "course_hight_mm = 300"), ["course_hight_mm", "course_height_mm"]),
    ],
)
def test_refused(folder: Path, lines: tuple[str, ...], words: list[str]) -> None:
    said = refused(folder, *lines)
    for word in words:
        assert word in said


def test_crates_nobody_could_lay(folder: Path) -> None:
    path = folder / "job.toml"
    lines = [line for line in path.read_text().splitlines() if not line.startswith("crate_mm")]
    path.write_text("\n".join(lines).replace("[reservoir]", "[reservoir]\ncrate_mm = [10, 5, 400]"))
    assert "crates to a layer" in refused(folder)
