"""The rules of the house that a machine can hold: the order of the rooms, what is locked, and what no file may say."""

import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from importlinter.cli import lint_imports
from packaging.requirements import Requirement

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "beckwright"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
LOCKED = ("run.txt", "test.txt")
HEAVY = {"numpy", "scipy", "shapely", "ezdxf", "typst", "pydantic", "fontTools"}

HOSTS = tuple(name[::-1] for name in ("gro.ipyp", "gro.detsohnohtyp", "moc.sjpmn", "gro.sjmpn", "oi.setarc"))
"""Hosts of package registries, backwards, so that this file does not hold them either."""
MACHINE = re.compile(r"(?<![\w.\-])/(?:work|tmp|root|home|Users)/[\w.]")
"""Where a file lay on the machine of whoever wrote it."""


def contracts() -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = PROJECT["tool"]["importlinter"]["contracts"]
    return found


def test_imports_run_one_way(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    assert lint_imports(no_cache=True, no_logo=True) == 0


def test_the_contracts_would_notice_a_house_upside_down(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    upside_down = tmp_path / "contracts.toml"
    upside_down.write_text(
        '[tool.importlinter]\nroot_package = "beckwright"\n[[tool.importlinter.contracts]]\nname = "upside down"\n'
        'type = "layers"\nlayers = ["beckwright.base", "beckwright.job", "beckwright.stages"]\n',
        encoding="utf-8",
    )
    monkeypatch.chdir(ROOT)
    assert lint_imports(config_filename=str(upside_down), no_cache=True, no_logo=True) == 1


@pytest.mark.parametrize("contract", contracts(), ids=lambda contract: contract["containers"][0])
def test_every_room_has_its_place(contract: dict[str, Any]) -> None:
    """Also a folder without ``__init__``, which the linter of imports does not see."""
    assert contract["exhaustive"]
    folder = ROOT / "src" / contract["containers"][0].replace(".", "/")
    rooms = {path.stem for path in folder.glob("*.py")} - {"__init__"}
    rooms |= {path.parent.relative_to(folder).parts[0] for path in folder.glob("*/**/*.py")}
    layers = {name.strip(" ()") for layer in contract["layers"] for name in layer.split("|")}
    assert rooms == layers


def test_every_folder_of_modules_is_a_package() -> None:
    folders = {path.parent for path in SOURCE.rglob("*.py")}
    assert [folder for folder in sorted(folders) if not (folder / "__init__.py").is_file()] == []


@pytest.mark.parametrize("name", LOCKED)
def test_every_requirement_is_pinned_and_hashed(name: str) -> None:
    text = (ROOT / "requirements" / name).read_text(encoding="utf-8").replace("\\\n", " ")
    rows = [line for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#")]
    assert len(rows) > 10
    for row in rows:
        assert re.match(r"[\w.\-]+==[\w.!+]+ ", row), row
        assert "--hash=sha256:" in row, row


@pytest.mark.parametrize("name", LOCKED)
def test_requirements_name_no_host(name: str) -> None:
    text = (ROOT / "requirements" / name).read_text(encoding="utf-8")
    assert "://" not in text
    assert not re.search(r"^\s*(-i|-f|--index|--extra-index|--find-links|--trusted)", text, re.MULTILINE)


def test_the_lock_gives_what_the_project_asks_for() -> None:
    """A dependency added to the project file without ``dev.py lock`` is missing, or too old, here."""
    text = (ROOT / "requirements" / "run.txt").read_text(encoding="utf-8")
    pinned: dict[str, list[str]] = {}
    for name, version in re.findall(r"^([\w.\-]+)==([\w.!+]+)", text, re.MULTILINE):
        pinned.setdefault(name, []).append(version)
    for asked in map(Requirement, PROJECT["project"]["dependencies"]):
        versions = pinned.get(asked.name.lower(), [])
        assert versions, f"{asked.name} is not locked: python3 dev.py lock"
        assert all(asked.specifier.contains(version) for version in versions)


def files_of_the_repository() -> list[Path]:
    """What git holds or would hold; without git, everything but what tools leave behind."""
    if shutil.which("git") and (ROOT / ".git").exists():
        words = ["git", "-c", f"safe.directory={ROOT}", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
        listed = subprocess.run(words, cwd=ROOT, capture_output=True, check=True).stdout.decode().split("\0")
        return [ROOT / name for name in listed if name and (ROOT / name).is_file()]
    left = re.compile(r"^(\.venv|out|\.git|\..*_cache|\.hypothesis|__pycache__)$")
    return [
        path for path in ROOT.rglob("*") if path.is_file() and not any(map(left.match, path.relative_to(ROOT).parts))
    ]


def test_no_file_names_a_machine_or_a_registry() -> None:
    files = files_of_the_repository()
    assert ROOT / "pyproject.toml" in files
    faults = []
    for path in files:
        text = path.read_bytes().decode("utf-8", errors="replace")
        faults += [f"{path.relative_to(ROOT)}: {found[0]}" for found in MACHINE.finditer(text)]
        faults += [f"{path.relative_to(ROOT)}: {host}" for host in HOSTS if host in text.lower()]
    assert faults == []


@pytest.mark.parametrize(
    ("words", "heavy"),
    [
        (None, HEAVY),
        (["--help"], HEAVY),
        # What reads the words of a command line checks them by pydantic, also when they only ask for help.
        (["explain", "--help"], HEAVY - {"pydantic"}),
        ([], HEAVY - {"pydantic"}),
    ],
    ids=["import", "help", "help of a command", "nothing"],
)
def test_help_loads_nothing_heavy(words: list[str] | None, heavy: set[str]) -> None:
    asked = "" if words is None else f"sys.argv[1:] = {words!r}\ntry: main()\nexcept SystemExit: pass\n"
    told = f"print('loaded', sorted(set(sys.modules) & {heavy!r}))"
    script = f"import sys\nfrom beckwright.cli import main\n{asked}{told}"
    ran = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert ran.stdout.splitlines()[-1] == "loaded []"


@pytest.mark.parametrize(
    ("test", "refused", "code"),
    [
        ("import pytest\ndef test_one(): pytest.skip('no part')", "1", pytest.ExitCode.TESTS_FAILED),
        ("import pytest\ndef test_one(): pytest.skip('no part')", "", pytest.ExitCode.OK),
        ("import pytest\npytest.importorskip('no_such_part')", "1", pytest.ExitCode.INTERRUPTED),
        ("import pytest\n@pytest.mark.skip\ndef test_one(): pass", "1", pytest.ExitCode.TESTS_FAILED),
        ("import pytest\n@pytest.mark.xfail\ndef test_one(): assert False", "1", pytest.ExitCode.OK),
        ("def test_one(): pass", "1", pytest.ExitCode.OK),
        ("", "1", pytest.ExitCode.NO_TESTS_COLLECTED),
    ],
)
def test_a_skip_fails_where_nothing_may_be_skipped(test: str, refused: str, code: int, tmp_path: Path) -> None:
    shutil.copy(ROOT / "tests" / "conftest.py", tmp_path)
    (tmp_path / "test_it.py").write_text(test, encoding="utf-8")
    ran = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--rootdir", tmp_path, tmp_path],
        cwd=tmp_path,
        # Plugins of other tests take seconds to be read.
        env=os.environ | {"BECKWRIGHT_NOTHING_SKIPPED": refused, "PYTEST_DISABLE_PLUGIN_AUTOLOAD": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == code, ran.stdout
