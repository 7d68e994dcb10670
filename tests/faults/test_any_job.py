"""Whatever job can be read can be designed: numbers a tired person might type never end in a fault of ours."""

import re
import shutil
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from beckwright import JobError, design, figures_of, read_job

EXAMPLES = Path(__file__).parents[2] / "examples"
NUMBER = re.compile(r"(?<=[=\[,] )-?\d+(?:\.\d+)?(?=\s|,|\]|$)", re.MULTILINE)
factors = st.sampled_from([0.0, 0.001, 0.1, 0.5, 0.9, 1.1, 2.0, 10.0, 1000.0, -1.0])


@pytest.mark.parametrize("name", ["hazel_bank", "withy_lane", "larkspur_court"])
@given(changes=st.lists(st.tuples(st.integers(0, 400), factors), min_size=1, max_size=4))
@settings(max_examples=60, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_job_that_reads_can_be_designed(name: str, changes: list[tuple[int, float]], tmp_path: Path) -> None:
    """Up to four numbers of an example are multiplied by something absurd or just wrong."""
    folder = tmp_path / name
    shutil.copytree(EXAMPLES / name, folder, dirs_exist_ok=True)
    text = (EXAMPLES / name / "job.toml").read_text(encoding="utf-8")
    found = list(NUMBER.finditer(text))
    for place, factor in changes:
        match = found[place % len(found)]
        written = f"{float(match[0]) * factor:g}"
        text = (
            text[: match.start()]
            + written.ljust(len(match[0]))[: max(len(match[0]), len(written))]
            + text[match.end() :]
        )
        found = list(NUMBER.finditer(text))
    (folder / "job.toml").write_text(text, encoding="utf-8")
    try:
        designed = design(read_job(folder))
    except JobError:
        return
    assert all(np.isfinite((figure.amount, figure.low, figure.high)).all() for figure in figures_of(designed))
