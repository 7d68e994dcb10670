"""Long work stopped from the keyboard: a real signal to a real process, and nothing half done left behind."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

EXAMPLE = Path(__file__).parents[2] / "examples" / "hazel_bank"
BROKEN_OFF = 130
"""128 and the number of the signal: how a shell tells of it (POSIX, "Exit Status for Commands")."""

HEARING = """import signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)
from beckwright.cli import main
main()"""
"""A process begun from one in the background may have been told to ignore the signal; this one hears it."""


@pytest.mark.skipif(os.name == "nt", reason="there is no such signal to send to one process on this system")
def test_papers_stopped_while_they_are_drawn(tmp_path: Path) -> None:
    into = tmp_path / "papers"
    words = ["papers", str(EXAMPLE), "--into", str(into)]
    process = subprocess.Popen([sys.executable, "-c", HEARING, *words], stderr=subprocess.PIPE, text=True)
    started = time.monotonic()
    while not into.is_dir() and process.poll() is None and time.monotonic() - started < 60:
        time.sleep(0.05)
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=30)
    assert process.returncode == BROKEN_OFF
    assert "Traceback" not in said
    assert said.count("\n") <= 1
    assert not list(into.glob(".*.part"))
    assert not (into / "papers.pdf").exists()
    assert _children_of(process.pid) == []


def _children_of(parent: int) -> list[str]:
    listed = subprocess.run(["ps", "-eo", "ppid=,pid="], capture_output=True, text=True, check=True).stdout
    return [line for line in listed.splitlines() if line.split()[0] == str(parent)]
