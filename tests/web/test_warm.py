"""The app asked before anybody does: who comes first waits no longer than who comes next."""

import asyncio
import gc
import shutil
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from beckwright.web import warm as warming
from beckwright.web.app import make_app
from beckwright.web.desk import opened
from beckwright.web.scripts import STATIC, imports_of, script, scripts_at
from beckwright.web.warm import warm
from tests.web.conftest import HERE, Page


@pytest.fixture(autouse=True)
def _collector_as_it_was() -> Iterator[None]:
    before = gc.get_threshold()
    yield
    gc.unfreeze()
    gc.set_threshold(*before)


def warmed(folder: Path, token: str | None = None) -> Page:
    app = make_app(folder, token=token)
    with ThreadPoolExecutor(1) as apart:
        apart.submit(lambda: asyncio.run(warm(app, token))).result()
    return Page(app)


@pytest.mark.parametrize("token", [None, "a pass"])
def test_the_job_is_designed_before_anybody_asks(
    folder: Path, token: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(warming, "HOST", HERE.removeprefix("http://").partition(":")[0])
    page = warmed(folder, token)
    designed: list[int] = []
    monkeypatch.setattr(opened, "design", lambda *_: designed.append(1))
    if token is not None:
        page.get(f"/enter?word={token.replace(' ', '%20')}")
    assert page.get("/api/state").json()["revision"] == 1
    assert not designed


def test_nothing_is_changed_by_it(folder: Path) -> None:
    before = (folder / "job.toml").read_bytes()
    assert len(warmed(folder).get("/api/revisions").json()["revisions"]) == 1
    assert (folder / "job.toml").read_bytes() == before


def test_what_is_wrong_with_a_job_is_told_to_who_asks(folder: Path) -> None:
    (folder / "survey.csv").write_text("point,east_m\n1,2\n", encoding="utf-8")
    answer = warmed(folder).get("/api/state")
    assert answer.status_code == 422
    assert any("survey.csv" in each["place"] for each in answer.json()["problems"])


def test_a_page_names_every_script_it_will_ask_for() -> None:
    """HTML Living Standard, modulepreload: a script that is not named is asked for when the one before it has come."""
    named = imports_of("desk/desk.js")
    for name in ("desk/desk.js", *named):
        text = (STATIC / name).read_text(encoding="utf-8")
        asked = [line.split('"')[-2] for line in text.splitlines() if line.endswith('.js";') and 'from "' in line]
        assert {((STATIC / name).parent / each).resolve() for each in asked} <= {
            (STATIC / each).resolve() for each in (*named, "desk/desk.js")
        }
    assert len(named) == len(set(named)) > 20
    assert all(f'href="{scripts_at()}/{name}"' in script("desk/desk.js") for name in named)


def test_scripts_that_import_one_another_are_named_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from beckwright.web import scripts

    monkeypatch.setattr(scripts, "STATIC", tmp_path)
    (tmp_path / "a.js").write_text('import { b } from "./b.js";\nimport {\n  c,\n} from "./c.js";\n')
    (tmp_path / "b.js").write_text('export { a } from "./a.js";\n')
    (tmp_path / "c.js").write_text('import "./b.js";\n')
    assert imports_of("a.js") == ("b.js", "c.js")
    shutil.rmtree(tmp_path)
