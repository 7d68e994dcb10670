"""Example jobs on the bench, as they are and with faults put in."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from beckwright.cures import Bench
from beckwright.job.edit import edit, read_edit
from beckwright.job.model import Job
from beckwright.job.read import read_job_text

EXAMPLES = Path(__file__).parents[2] / "examples"
Set = dict[str, Any] | tuple[str, Any]
"""A key and what to put there, or a whole edit."""


def text_of(name: str, faults: Sequence[Set] = ()) -> str:
    """The text of an example, with faults put in."""
    text = (EXAMPLES / name / "job.toml").read_text(encoding="utf-8")
    for fault in faults:
        whole = fault if isinstance(fault, dict) else {"do": "set value", "key": fault[0], "value": fault[1]}
        text = edit(text, read_edit(whole))
    return text


def reader(name: str) -> Callable[[str], Job]:
    """Read a text with the tables of an example."""
    return lambda text: read_job_text(text, EXAMPLES / name)


@pytest.fixture
def bench() -> Callable[..., Bench]:
    """An example laid on the bench."""
    return lambda name, faults=(): Bench(text_of(name, faults), reader(name))
