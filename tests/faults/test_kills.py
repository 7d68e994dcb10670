"""A process writing to a job is killed at instants nobody chose: what it was told had been kept is there afterwards.

``BECKWRIGHT_KILLS`` sets how often; without it, as often as a test run has patience for.
"""

import json
import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from beckwright.site import Keeper, Saved
from tests.site.writer import JPEG

KILLS = int(os.environ.get("BECKWRIGHT_KILLS", "200"))
KILLS_TO_A_FOLDER = 20
LONGEST = 0.05
"""From the start of a process to its end, s: opening takes a few ms, a write about one. Twice as long where the machine
is busy, so that there is something to lose."""

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork")
Told = dict[str, Any]


@pytest.fixture(scope="module")
def writer() -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-m", "tests.site.writer"]
    root = Path(__file__).parents[2]
    with subprocess.Popen(command, cwd=root, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        yield process
        process.stdin.close()  # type: ignore[union-attr]


def killed(writer: subprocess.Popen[str], folder: Path, turn: int, after: float) -> list[Told]:
    """Let it write for a time, kill it, and return all it said had been kept."""
    writer.stdin.write(f"{folder} {turn}\n")  # type: ignore[union-attr]
    writer.stdin.flush()  # type: ignore[union-attr]
    told: list[Any] = []
    number = None
    while True:
        said = json.loads(writer.stdout.readline())  # type: ignore[union-attr]
        if said is None:
            return told
        if isinstance(said, int):
            number = said
            time.sleep(after)
            os.kill(number, signal.SIGKILL)
        else:
            told.append(said)


def check_database(folder: Path) -> None:
    rows = sqlite3.connect(folder / "site.sqlite")
    assert rows.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert rows.execute("PRAGMA foreign_key_check").fetchall() == []
    rows.close()


def check_kept(keeper: Keeper, told: list[Told]) -> None:
    pegs = [each.content["mark"] for each in keeper.readings("peg")]
    assert len(pegs) == len(set(pegs)), "no reading twice"
    why = [each.why for each in keeper.revisions()]
    assert len(why) == len(set(why)), "no revision twice"
    for each in told:
        if each["act"] == "reading":
            assert each["mark"] in pegs
        elif each["act"] == "photograph":
            assert keeper.photograph(each["digest"]) == JPEG + each["mark"].encode() * 20_000
        else:
            assert keeper.at(each["number"]) == each["text"]
        if each["act"] == "bring":
            raw = keeper.table(dict(keeper.version(each["number"]).tables)[each["name"]])
            assert raw.startswith(f"# {each['mark']} of {each['name']}\n".encode()), "the table it was told of"


def check_file(keeper: Keeper, folder: Path, told: list[Told]) -> None:
    """Nobody used an editor, so nothing may be taken for an edit; the head is the last one told, or one write on."""
    stands = keeper.standing()
    assert (folder / "job.toml").read_bytes() == stands.text.encode()
    lie = {path.name: sha256(path.read_bytes()).hexdigest() for path in folder.glob("*.csv")}
    assert lie == dict(stands.tables), "every table as the revision has it, and no other"
    assert not any(each.origin in ("outside", "aside") for each in keeper.revisions())
    moves = [each for each in told if "text" in each]
    if not moves:
        return
    last = next(each for each in keeper.revisions() if each.number == moves[-1]["number"])
    assert stands.revision.number in (last.number, last.parent, last.onward)


def send_again(keeper: Keeper, told: list[Told]) -> None:
    """The answer may have been lost on its way: whoever sends the last save again changes nothing."""
    saves = [each for each in told if each["act"] == "save"]
    if saves:
        before = (keeper.standing(), keeper.revisions())
        last = saves[-1]
        again = keeper.save(last["text"], why=last["mark"], mark=last["mark"], based_on=1)
        assert isinstance(again, Saved)
        assert again.again
        assert (keeper.standing(), keeper.revisions()) == before


def test_killed_at_any_instant_nothing_told_is_lost(
    writer: subprocess.Popen[str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    chance = random.Random(20260502)  # noqa: S311 - instants, not secrets
    folder, told, heard = Path(), [], 0
    for turn in range(KILLS):
        if turn % KILLS_TO_A_FOLDER == 0:
            folder, told = tmp_path_factory.mktemp("killed"), []
            (folder / "job.toml").write_text("# by hand\n")
        said = killed(writer, folder, turn, chance.uniform(0, LONGEST if heard > 2 * turn else 2 * LONGEST))
        told, heard = told + said, heard + len(said)
        if (folder / "site.sqlite").exists():
            check_database(folder)
        with Keeper(folder) as keeper:
            check_kept(keeper, told)
            check_file(keeper, folder, said)
            send_again(keeper, said)
    assert heard > KILLS, "the writer was killed before it had done anything worth killing"
