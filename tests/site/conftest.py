"""A job folder with a keeper in it. The keeper never asks whether a text makes sense, so any text will do."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from beckwright.site import Keeper

FIRST = "# by hand\n[job]\nname = 'a stream'\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "job.toml").write_bytes(FIRST.encode())
    return tmp_path


@pytest.fixture
def keeper(folder: Path) -> Iterator[Keeper]:
    with Keeper(folder) as opened:
        yield opened
