"""Everything a developer types, on any system with Python 3.11 or later and nothing else.

python3 dev.py             set up, design the example job, write its papers
python3 dev.py test        run all tests; words after it go to pytest
python3 dev.py check       style, types and the order of the house
python3 dev.py bench       how fast it is
python3 dev.py docs        write the reference pages in docs/ again
python3 dev.py lock        choose the versions in requirements/ again; --upgrade for the newest
"""

from __future__ import annotations

import hashlib
import os
import shlex
import shutil
import subprocess
import sys
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
SCRIPTS = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = SCRIPTS / ("python.exe" if os.name == "nt" else "python")
LOG = VENV / "install.log"
REQUIREMENTS = {"run": ("run.txt",), "test": ("run.txt", "test.txt")}
"""Requirement files of each kind of set-up; the last of them names everything the kind needs."""

EXAMPLE = Path("examples", "hazel_bank")
PAPERS = Path("out", "hazel_bank")

SOURCE_ONLY = "julian"
"""A package with no wheel that one of ours names and never imports: nothing is built from source here."""

NO_NETWORK = ("connection", "name resolution", "network is unreachable", "timed out", "max retries", "getaddrinfo")


def main() -> int:
    """Do what the first word says."""
    if sys.version_info < (3, 11):  # noqa: UP036  # Older ones do start this file.
        stop(f"beckwright needs Python 3.11 or later; this is {sys.version.split()[0]}.")
    word, rest = (sys.argv[1], sys.argv[2:]) if len(sys.argv) > 1 else ("", [])
    doings = {"": example, "test": test, "check": check, "bench": bench, "docs": docs, "lock": lock}
    if word not in doings:
        print(__doc__.strip())
        return 0 if word in ("help", "--help", "-h") else 2
    return doings[word](rest)


def example(_: list[str]) -> int:
    """Design the example, write its papers, and say what to do next."""
    set_up("run")
    for words in (
        ("papers", str(EXAMPLE), "--into", str(PAPERS)),
        ("check", str(EXAMPLE)),
        ("figures", str(EXAMPLE), "--ten"),
    ):
        print(f"\n> beckwright {shlex.join(words)}", flush=True)
        # The example is a real site with real trouble: a check that finds some ends with 1.
        if run(PYTHON, "-m", "beckwright", *words) not in (0, 1):
            stop("The example could not be designed.")
    command = (SCRIPTS / "beckwright").relative_to(ROOT)
    print(f"\nOpen {PAPERS / 'papers.pdf'}. Begin a job of your own: {command} new my_stream")
    return 0


def test(words: list[str]) -> int:
    """Run the tests, all of them on every core, and tell the reason of each one skipped."""
    set_up("test")
    # One more than there are cores: tests in a browser wait about as long as they work.
    workers = str((os.cpu_count() or 1) + 1)
    return run(PYTHON, "-m", "pytest", "-rfEs", *(words or ("-n", workers, "--dist", "loadscope")))


def check(_: list[str]) -> int:
    """Run every check, all of them side by side, and show what each says in turn."""
    set_up("test")
    checks = {
        "style": (PYTHON, "-m", "ruff", "check", "."),
        "layout": (PYTHON, "-m", "ruff", "format", "--check", "."),
        "types": (PYTHON, "-m", "mypy", "--strict"),
        "imports": (SCRIPTS / "lint-imports", "--no-cache", "--no-logo"),
        **checks_of_scripts(),
    }
    with ThreadPoolExecutor(len(checks)) as beside:
        ran = {name: beside.submit(heard, *words) for name, words in checks.items()}
        failed = [name for name, ending in ran.items() if told(name, *ending.result()) != 0]
    print(f"\nFailed: {', '.join(failed)}." if failed else "\nAll checks pass.")
    return 1 if failed else 0


def checks_of_scripts() -> dict[str, tuple[str, ...]]:
    """The types of what runs in the browser, where the checker is here; a proof does not go on without it."""
    checker = shutil.which("tsc")
    if checker is None and "BECKWRIGHT_NOTHING_SKIPPED" not in os.environ:
        print("\nThe types of the scripts are not checked: tsc (Debian's node-typescript) is not installed.")
        return {}
    return {"types of the scripts": (checker or "tsc", "-p", "jsconfig.json")}


def bench(words: list[str]) -> int:
    """Measure how fast it is."""
    set_up("test")
    return run(PYTHON, "-m", "benchmarks", *words)


def docs(_: list[str]) -> int:
    """Write the pages that are made from the program."""
    set_up("run")
    return run(PYTHON, "-m", "beckwright.cli.reference", "docs")


def lock(words: list[str]) -> int:
    """Choose versions again, for every system at once. No index is written into the files."""
    uv = SCRIPTS / ("uv.exe" if os.name == "nt" else "uv")
    if not uv.is_file():
        set_up("test")
    compile_ = [uv, "pip", "compile", "--universal", "--python-version", "3.11", "--generate-hashes"]
    for name, sources in (
        ("run.txt", ("pyproject.toml", "requirements/run.in")),
        ("test.txt", ("pyproject.toml", "requirements/run.in", "requirements/test.in", "-c", "requirements/run.txt")),
    ):
        options = ("--no-header", "--quiet", "--no-emit-package", SOURCE_ONLY)
        code = run(*compile_, *options, *words, *sources, "-o", f"requirements/{name}")
        if code != 0:
            return code
    return 0


def heard(*words: str | Path) -> tuple[int, str]:
    """Run a command in the root of the checkout; how it ended and all it said."""
    ran = subprocess.run(
        [str(word) for word in words],
        cwd=ROOT,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        errors="replace",
        check=False,
    )
    return ran.returncode, ran.stdout


def told(name: str, code: int, said: str) -> int:
    """Show what a check said under its name; how it ended."""
    print(f"\n> {name}\n{said.rstrip()}", flush=True)
    return code


def run(*words: str | Path) -> int:
    """Run a command in the root of the checkout, seen by the person."""
    return subprocess.run([str(word) for word in words], cwd=ROOT, check=False).returncode


def set_up(kind: str) -> None:
    """Make the environment where it is not as the files say."""
    if stamp(kind).is_file() and stamp(kind).read_text() == digest(kind):
        return
    if not has_pip():
        step("Making .venv", make_venv)
    everything = ROOT / "requirements" / REQUIREMENTS[kind][-1]
    # Every package is locked, so none is left to be resolved.
    hashed = ("--require-hashes", "--only-binary", ":all:", "--no-deps", "-r", str(everything))
    step(f"Installing what it needs to {kind}", lambda: install(*hashed, most=everything.read_text().count("==")))
    step("Installing beckwright", lambda: install("--no-deps", "--no-build-isolation", "--editable", str(ROOT)))
    for each in REQUIREMENTS if kind == "test" else (kind,):
        stamp(each).write_text(digest(each))


def has_pip() -> bool:
    """Whether there is an environment that can be installed into."""
    asked = (PYTHON, "-m", "pip", "--version")
    return PYTHON.is_file() and subprocess.run(asked, capture_output=True, check=False).returncode == 0


def stamp(kind: str) -> Path:
    """File that says what one kind of set-up was made from."""
    return VENV / f"made-to-{kind}"


def digest(kind: str) -> str:
    """All that a set-up hangs on: its requirements, the project file, this Python, and where the checkout lies."""
    all_of_it = hashlib.sha256(f"{sys.version_info[:2]} {ROOT}".encode())
    for path in (ROOT / "pyproject.toml", *(ROOT / "requirements" / name for name in REQUIREMENTS[kind])):
        all_of_it.update(path.read_bytes())
    return all_of_it.hexdigest()


def step(name: str, work) -> None:
    """Do one step of the set-up and say how long it took."""
    print(f"{name} ...", end="", flush=True)
    start = time.monotonic()
    work()
    again = f"\r{name} ..." if sys.stdout.isatty() else ""
    print(f"{again} done in {time.monotonic() - start:.0f} s", flush=True)


def make_venv() -> None:
    """Make an empty environment in place of what is there."""
    made = subprocess.run([sys.executable, "-m", "venv", "--clear", str(VENV)], capture_output=True, check=False)
    if made.returncode != 0:
        stop("This Python cannot make a virtual environment; on Debian and Ubuntu: apt-get install python3-venv.")


def install(*words: str, most: int = 0) -> None:
    """Install by pip, counting packages on a terminal; all that pip says goes to a log."""
    pip = [str(PYTHON), "-m", "pip", "install", "--disable-pip-version-check", "--no-input", "--progress-bar", "off"]
    with (
        subprocess.Popen(
            [*pip, *words], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
        ) as running,
        LOG.open("w", encoding="utf-8") as log,
    ):
        seen = 0
        for line in running.stdout or ():
            log.write(line)
            seen += line.startswith(("Collecting", "Requirement already"))
            if most and sys.stdout.isatty():
                print(f"\r{seen:4} of about {most} packages ...", end="", flush=True)
    if running.returncode != 0:
        stop(reason(LOG.read_text(encoding="utf-8")))


def reason(log: str) -> str:
    """One sentence for what pip could not do."""
    lower = log.lower()
    if "do not match the hashes" in lower:
        why = "A package is not the one that was chosen: its hash differs"
    elif any(sign in lower for sign in NO_NETWORK):
        why = "The packages could not be fetched: is there a network?"
    elif "no matching distribution" in lower:
        why = "A package has no build for this system and this Python"
    elif "no space left" in lower:
        why = "The disk is full"
    else:
        why = "The packages could not be installed"
    return f"{why} (all that was said is in {LOG.relative_to(ROOT)})"


def stop(why: str) -> None:
    """End with one sentence."""
    sys.exit(f"\n{why}")


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit("\nStopped.")
