"""The example a newcomer looks round is the one beside the program, to the byte."""

from pathlib import Path

import pytest

from beckwright.base.errors import JobError
from beckwright.job.example import IN_CHECKOUT, write_example


def test_it_is_copied_whole_and_writes_over_nothing(tmp_path: Path) -> None:
    folder = tmp_path / "a look"
    written = write_example(folder)
    assert {each.name for each in written} >= {"job.toml", "survey.csv", "pumps.csv", "hoses.csv"}
    assert [each.name for each in written if each.read_bytes() != (IN_CHECKOUT / each.name).read_bytes()] == []
    (folder / "job.toml").write_text("mine", encoding="utf-8")
    with pytest.raises(JobError, match="already"):
        write_example(folder)
    assert (folder / "job.toml").read_text(encoding="utf-8") == "mine"
