"""`beckwright open` as a person gets it: a process of its own, asked over the network, stopped by Ctrl-C."""

import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
import pytest

from tests.web.conftest import moved

PATIENCE = 30.0


@pytest.fixture
def port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as free:
        return int(free.getsockname()[1])


@contextmanager
def opened(folder: Path, port: int, *words: str) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-m", "beckwright", "open", str(folder), "--no-browser", "--port", str(port), *words]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8"
    ) as process:
        try:
            _wait(port, process)
            yield process
        finally:
            process.kill()


def _wait(port: int, process: subprocess.Popen[str]) -> None:
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end and process.poll() is None:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
        except OSError:
            time.sleep(0.05)
        else:
            return
    pytest.fail("it did not open")


def stopped(process: subprocess.Popen[str]) -> tuple[int, str, str]:
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=PATIENCE)
    return process.returncode, out, err


def test_it_opens_answers_and_stops(folder: Path, port: int) -> None:
    here = f"http://127.0.0.1:{port}"
    with opened(folder, port) as process:
        answer = httpx.post(f"{here}/api/try", json={"edits": moved()}, headers={"Origin": here}, timeout=PATIENCE)
        assert answer.status_code == 200
        assert httpx.get(f"http://localhost:{port}/api/state").status_code == 200
        code, out, err = stopped(process)
    assert f"{here}/" in out
    assert "Traceback" not in err
    assert code in (0, 130)


def children(process: subprocess.Popen[str]) -> list[Path]:
    listed = Path(f"/proc/{process.pid}/task/{process.pid}/children")
    if not listed.exists():
        pytest.skip("this system does not say which processes belong to which")
    return [Path(f"/proc/{number}/stat") for number in listed.read_text().split()]


def gone(stat: Path) -> bool:
    try:
        return stat.read_text().rpartition(")")[2].split()[0] == "Z"
    except OSError:
        return True


def test_killed_it_leaves_no_process_behind(folder: Path, port: int) -> None:
    with opened(folder, port) as process:
        httpx.get(f"http://127.0.0.1:{port}/api/state", timeout=PATIENCE)
        besides = children(process)
        assert besides
        process.kill()
        end = time.monotonic() + PATIENCE
        while not all(map(gone, besides)):
            assert time.monotonic() < end
            time.sleep(0.05)


def test_only_this_machine_reaches_it_unless_asked(folder: Path, port: int) -> None:
    with (
        opened(folder, port),
        pytest.raises(ConnectionRefusedError),
        socket.create_connection(("127.0.0.2", port), timeout=2),
    ):
        pass


def test_the_slope_gets_a_code_and_nobody_else_enters(folder: Path, port: int) -> None:
    here = f"http://127.0.0.1:{port}"
    with opened(folder, port, "--lan") as process:
        assert httpx.get(f"{here}/api/state").status_code == 403
        code, out, _ = stopped(process)
    assert code in (0, 130)
    words = set(re.findall(r"enter\?word=([\w-]+)", out))
    assert len(words) == 1
    assert len(words.pop()) >= 32
    assert "█" in out or "▀" in out


def test_each_opening_has_a_pass_of_its_own_that_opens(folder: Path, port: int) -> None:
    here = f"http://127.0.0.1:{port}"
    with opened(folder, port, "--lan") as process:
        assert process.stdout is not None
        link = next(found[0] for line in process.stdout if (found := re.search(r"http://127\.0\.0\.1\S+", line)))
        with httpx.Client(follow_redirects=True) as telephone:
            assert telephone.get(link).status_code == 200
            assert telephone.get(f"{here}/api/state", timeout=PATIENCE).status_code == 200
        assert httpx.get(f"{here}/api/state", cookies={"beckwright_pass": "another"}).status_code == 403


def test_a_taken_port_is_said(folder: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        number = taken.getsockname()[1]
        command = [sys.executable, "-m", "beckwright", "open", str(folder), "--no-browser", "--port", str(number)]
        ran = subprocess.run(command, capture_output=True, text=True, check=False, timeout=PATIENCE)
    assert ran.returncode == 2
    assert f"--port {number + 1}" in ran.stderr
    assert not (folder / "site.sqlite").exists()


def test_a_folder_without_a_job_is_said(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("no job", encoding="utf-8")
    command = [sys.executable, "-m", "beckwright", "open", str(tmp_path), "--no-browser"]
    ran = subprocess.run(command, capture_output=True, text=True, check=False, timeout=PATIENCE)
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "job.toml" in ran.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["letter.txt"]


@pytest.mark.parametrize("there", [True, False])
def test_an_empty_or_missing_folder_opens_at_the_first_visit(tmp_path: Path, port: int, there: bool) -> None:
    folder, here = tmp_path / "new stream", f"http://127.0.0.1:{port}"
    if there:
        folder.mkdir()
    with opened(folder, port) as process:
        assert "First visit" in httpx.get(f"{here}/", timeout=PATIENCE).text
        assert httpx.get(f"{here}/api/state", timeout=PATIENCE).status_code == 404
        assert not there or list(folder.iterdir()) == []
        made = httpx.post(
            f"{here}/api/visit/job",
            json={"mark": "a-mark-of-its-own", "visit": {"length": 15, "fall": 1}},
            headers={"Origin": here},
            timeout=PATIENCE,
        )
        assert made.json() == {"folder": "new stream", "here": True, "beside": False}
        assert httpx.get(f"{here}/api/state", timeout=PATIENCE).status_code == 200
        _, out, err = stopped(process)
    assert "no job yet" in out
    assert "Traceback" not in err
    assert (folder / "job.toml").is_file()


def test_no_folder_named_is_the_job_here_or_a_new_one_in_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from beckwright.cli.open import folder_meant

    monkeypatch.chdir(tmp_path)
    (tmp_path / "letter.txt").write_text("no job", encoding="utf-8")
    assert folder_meant(None) == Path("my_stream")
    (tmp_path / "my_stream").mkdir()
    assert folder_meant(None) == Path("my_stream_2")
    assert folder_meant(Path("letter.txt")) == Path("letter.txt")
    (tmp_path / "job.toml").write_text("", encoding="utf-8")
    assert folder_meant(None) == Path()
