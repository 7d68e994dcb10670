"""The job is looked at once for each request, and one that cannot be read is told by whoever needs it."""

from pathlib import Path

import pytest

from beckwright.site import Keeper, Version
from tests.web.conftest import Page

TRY = {"edits": [{"do": "move point", "point": 2, "x_m": 4.0, "y_m": 1.0}]}


def test_a_try_looks_at_the_job_once(client: Page, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    looks, stands = list[int](), Keeper.standing

    def counted(keeper: Keeper) -> Version:
        # Pages of another test may still ask after their own job.
        looks.extend([1] if keeper.folder == folder else [])
        return stands(keeper)

    monkeypatch.setattr(Keeper, "standing", counted)
    assert client.post("/api/try", json=TRY).status_code == 200
    assert len(looks) == 1


def test_units_and_language_changed_in_an_editor_hold_for_the_next_request(client: Page, folder: Path) -> None:
    assert "ft" not in client.get("/api/state").json()["answers"][0]["words"]
    text = (folder / "job.toml").read_text()
    (folder / "job.toml").write_text(text.replace("[job]\n", '[job]\nunits = "us"\nlanguage = "de"\n', 1))
    assert client.get("/api/state").json()["units_told"]["called"] != "metric"
    assert 'lang="de"' in client.get("/").text


def test_a_job_that_cannot_be_read_is_told(client: Page, folder: Path) -> None:
    (folder / "job.toml").write_bytes(b"\xff\xfe not a text")
    answer = client.get("/api/state")
    assert answer.status_code == 422
    assert "job.toml" in answer.json()["problems"][0]["place"]
