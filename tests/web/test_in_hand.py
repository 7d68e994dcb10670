"""What a drag leaves out is nothing it needs: laws between the short way and the long one, on every example.

No number stands here: the short way must give, value for value, what the long way gives.
"""

import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest

from beckwright.compose import design
from beckwright.figures import figures_in_hand, figures_of
from beckwright.job.edit import edit, read_edit
from beckwright.job.read import read_job
from beckwright.job.wording.keylines import key_lines, toml_held
from beckwright.web.app import make_app
from tests.web.conftest import EXAMPLES, Page, moved

JOBS = ("hazel_bank", "fennymoor_park", "larkspur_court", "withy_lane")


@pytest.mark.parametrize("name", JOBS)
def test_figures_in_hand_are_those_of_the_whole(name: str) -> None:
    designed = design(read_job(EXAMPLES / name))
    whole = {figure.name: figure for figure in figures_of(designed)}
    held = list(figures_in_hand(designed))
    assert len(held) < len(whole)
    assert len({figure.name for figure in held}) == len(held)
    assert [figure.name for figure in held if figure != whole[figure.name]] == []


@pytest.mark.parametrize("name", JOBS)
def test_every_answer_looked_at_is_still_answered(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    from beckwright.figures import answers as told

    designed = design(read_job(EXAMPLES / name))
    short = told.answers_of(designed)
    monkeypatch.setattr(told, "figures_in_hand", figures_of)
    assert short == told.answers_of(designed)


def test_a_try_tells_what_keeping_it_would(tmp_path: Path) -> None:
    client = Page(make_app(Path(shutil.copytree(EXAMPLES / "hazel_bank", tmp_path / "job"))))
    before = client.get("/api/state").json()
    tried = client.post("/api/try", json={"edits": moved()}).json()
    body = {"mark": "kept-after-a-try", "based_on": before["revision"], "edits": moved()}
    kept = client.post("/api/edit", json=body).json()
    assert "ground" not in tried
    left_out = set(before) - set(tried)
    assert {name for name in left_out - {"undo", "redo"} if before[name] != kept[name]} == set(), (
        "what is left out does not move"
    )
    assert {name for name in tried if name != "revision" and tried[name] != kept[name]} == set()


def test_a_text_held_as_parsed_stays_what_it_is() -> None:
    """Others are given the same: whoever changed it would change it for all."""
    text = (EXAMPLES / "hazel_bank" / "job.toml").read_text(encoding="utf-8")
    lines = dict(key_lines(text))
    edits: list[dict[str, Any]] = [
        *moved(),
        {"do": "set flow", "name": "full", "l_h": 9500},
        {"do": "set value", "key": "site.soil", "value": "sand"},
    ]
    for each in edits:
        edit(text, read_edit(each))
    read_job(EXAMPLES / "hazel_bank")
    assert toml_held(text) == tomllib.loads(text)
    assert dict(key_lines(text)) == lines
    with pytest.raises(TypeError):
        key_lines(text)[("job",)] = 1  # type: ignore[index]
