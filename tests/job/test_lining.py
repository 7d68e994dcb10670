"""The section of a job about lining: read, converted, and refused where it cannot be."""

from pathlib import Path

import pytest

from beckwright.base.errors import JobError
from beckwright.job.new import write_new
from beckwright.job.read import read_job
from beckwright.tables.lining import PLEATED, SEAM_AS_SHEET

EXAMPLES = Path(__file__).parents[2] / "examples"


def job_with(folder: Path, section: str) -> Path:
    write_new(folder)
    path = folder / "job.toml"
    lines = path.read_text()
    assert "\n[lining]" not in lines
    path.write_text(f"{lines}\n[lining]\n{section}\n")
    return folder


def test_as_given(tmp_path: Path) -> None:
    lining = read_job(
        job_with(tmp_path, 'rolls_m = [6.0, 3.05]\nroll_length_m = 20\njoin = "loose"\npleated_percent = 5')
    ).lining
    assert lining.rolls == (3.05, 6.0)
    assert lining.roll_length == 20.0
    assert lining.join == "loose"
    assert lining.gathered == pytest.approx(0.05)


def test_nothing_given(tmp_path: Path) -> None:
    """No width of roll is ever assumed."""
    write_new(tmp_path)
    lining = read_job(tmp_path).lining
    assert lining.rolls == ()
    assert lining.roll_length is None
    assert (lining.join, lining.under_box) == ("bonded", True)
    assert (lining.seam_counts, lining.gathered) == (SEAM_AS_SHEET.amount, pytest.approx(PLEATED.amount))


@pytest.mark.parametrize(
    ("section", "words"),
    [
        ("rolls_m = [3.0, 3.0]", "stands twice"),
        ("rolls_m = [0.3]", "two laps"),
        ("fleece_rolls_m = [2.0, 4.0, 2.0]", "stands twice"),
        ('join = "glued"', "bonded"),
        ("rolls_m = [-3.0]", "at least"),
        ("roll_length_m = 0.2", "at least"),
    ],
)
def test_refused(tmp_path: Path, section: str, words: str) -> None:
    with pytest.raises(JobError) as caught:
        read_job(job_with(tmp_path, section))
    assert any("lining" in str(problem) and words in str(problem) for problem in caught.value.problems)


def test_the_examples_offer_what_their_notes_say() -> None:
    assert read_job(EXAMPLES / "hazel_bank").lining.rolls == (3.05, 4.0, 5.0, 6.0)
    assert read_job(EXAMPLES / "fennymoor_park").lining.rolls == (6.1, 7.6, 9.1)
