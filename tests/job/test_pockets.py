"""Pockets as written: what is refused, and how they come into SI."""

import shutil
from pathlib import Path

import pytest

from beckwright.base.errors import JobError
from beckwright.job.read import read_job

HAZEL = Path(__file__).parents[2] / "examples" / "hazel_bank"


def with_changed(folder: Path, before: str, after: str) -> Path:
    shutil.copytree(HAZEL, folder)
    text = (folder / "job.toml").read_text(encoding="utf-8")
    assert before in text
    (folder / "job.toml").write_text(text.replace(before, after, 1), encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ('name = "fern bank"', 'name = "kingcup shelf"', "pockets 1 and 2 are both called"),
        ("to_m = 3.5", "to_m = 0.9", "it runs from 1 to 0.9 m"),
        ("to_m = 15.0", "to_m = 19.0", "it ends at 19 m and the course at 18.00 m"),
        ("gap_mm = 300", "gap_mm = -300", "it begins 300 mm inside the edge of the lining"),
        (
            'plant = "Polystichum setiferum", share_percent = 40',
            'plant = "Polystichum setiferum", share_percent = 60',
            "its plants take 120 % of it together",
        ),
        ('light = "shade"', 'light = "dark"', "light"),
        ('jurisdiction = "England"', 'jurisdiction = "Atlantis"', "jurisdiction"),
    ],
)
def test_refused(tmp_path: Path, before: str, after: str, said: str) -> None:
    with pytest.raises(JobError) as refused:
        read_job(with_changed(tmp_path / "job", before, after))
    assert len(refused.value.problems) == 1
    assert said in str(refused.value)


def test_into_si() -> None:
    """Hazel Bank: the first pocket as written there, the fourth 80 mm in the channel."""
    job = read_job(HAZEL)
    first, fourth = job.planting.pockets[0], job.planting.pockets[3]
    assert (first.start, first.end, first.width) == pytest.approx((1.0, 3.5, 0.35))
    assert first.above_bed == pytest.approx(0.06)
    assert [each.share for each in first.plants] == pytest.approx([0.3, 0.4, 0.3])
    assert [each.spacing for each in first.plants] == [None, pytest.approx(0.3), None]
    assert fourth.gap == pytest.approx(-0.08)
    assert job.planting.loss == pytest.approx(0.05)


def test_a_plant_nobody_knows_is_no_error(tmp_path: Path) -> None:
    folder = with_changed(tmp_path / "job", '"Caltha palustris"', '"Quite unknown"')
    assert read_job(folder).planting.pockets[0].plants[0].plant == "Quite unknown"


def test_a_job_without_planting_reads(tmp_path: Path) -> None:
    text = (HAZEL / "job.toml").read_text(encoding="utf-8")
    start, end = text.index("[planting]"), text.index("[climate]")
    folder = with_changed(tmp_path / "job", text[start:end], "")
    assert read_job(folder).planting.pockets == ()
