"""A repair begins with what is there: the job written from levels as shot is read back with those levels."""

from pathlib import Path

import pytest

from beckwright import JobError, design, read_job
from beckwright.job.new import write_files
from beckwright.readings import as_built, read_shots
from beckwright.readings.repair import repair_files

HAZEL = Path(__file__).parents[2] / "examples" / "hazel_bank"
WRITTEN = 0.0011
"""job.toml and edges.csv hold whole millimetres: two of them together are off by one at most."""


def test_the_job_written_has_the_levels_shot(tmp_path: Path) -> None:
    designed = design(read_job(HAZEL))
    shots = read_shots(HAZEL / "as_built.csv", designed.course)
    found = as_built(designed, shots)
    write_files(tmp_path / "repair", repair_files(HAZEL, found))
    again = design(read_job(tmp_path / "repair"))
    lips = {lip.name: lip.crest for lip in again.water.lips}
    for shot in shots:
        held = [level for level in (shot.left, shot.middle, shot.right) if level is not None]
        if shot.lip and held:
            assert lips[shot.lip] == pytest.approx(sum(held) / len(held), abs=WRITTEN)
    edges = again.job.course.measured_edges
    assert edges is not None
    for shot in shots:
        if not shot.lip and shot.left is not None:
            place = edges.chainages.tolist().index(pytest.approx(shot.chainage))
            assert edges.left[place] == pytest.approx(shot.left, abs=WRITTEN)
    assert again.job.title.revision == "as built"
    # Comments of the person are kept.
    assert "# wants a bucket test" in (tmp_path / "repair" / "job.toml").read_text()


def test_settled_fill_is_reckoned_with_no_more(tmp_path: Path) -> None:
    designed = design(read_job(HAZEL))
    found = as_built(designed, read_shots(HAZEL / "as_built.csv", designed.course), settled=True)
    write_files(tmp_path / "repair", repair_files(HAZEL, found, settled=True))
    assert read_job(tmp_path / "repair").course.settlement == 0.0
    assert designed.job.course.settlement > 0.0


def test_nothing_is_written_over(tmp_path: Path) -> None:
    designed = design(read_job(HAZEL))
    found = as_built(designed, read_shots(HAZEL / "as_built.csv", designed.course))
    (tmp_path / "job.toml").write_text("mine")
    with pytest.raises(JobError):
        write_files(tmp_path, repair_files(HAZEL, found))
    assert (tmp_path / "job.toml").read_text() == "mine"
    assert not (tmp_path / "edges.csv").exists()
