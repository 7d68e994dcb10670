"""A folder may bear a word of ours for a name: told in another language it keeps it."""

import shutil
from pathlib import Path

import pytest

from beckwright.languages import phrasebook
from beckwright.web.app import make_app
from tests.web.conftest import EXAMPLES, Page


@pytest.mark.parametrize("name", ["bank", "hazel_bank"])
@pytest.mark.parametrize("path", ["/", "/slope/levels", "/care/record", "/papers"])
def test_a_name_is_said_in_no_language(tmp_path: Path, path: str, name: str) -> None:
    assert phrasebook("de").say("bank") != "bank"
    folder = Path(shutil.copytree(EXAMPLES / "hazel_bank", tmp_path / name))
    text = (folder / "job.toml").read_text(encoding="utf-8")
    (folder / "job.toml").write_text(text.replace("[job]\n", '[job]\nlanguage = "de"\n', 1), encoding="utf-8")
    page = Page(make_app(folder)).get(path).text
    assert 'lang="de"' in page
    assert f'translate="no">{name}<' in page.replace("<wbr>", "")
