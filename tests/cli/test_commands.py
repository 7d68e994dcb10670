"""The commands on the example jobs and on what a tired person types."""

import errno
import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from beckwright.base.errors import JobError
from beckwright.base.findings import Finding, Severity
from beckwright.base.published import Grade
from beckwright.base.words import quantity
from beckwright.cli import app, guard
from beckwright.cli.findings import findings_in_words, worst_is_fail
from beckwright.cli.reference import PAGES
from beckwright.compose import Works, design
from beckwright.figures import figures_of, figures_of_works
from beckwright.film import all_findings, film_findings, film_set
from beckwright.job.read import read_job
from beckwright.tables.sources import SOURCES

ROOT = Path(__file__).resolve().parents[2]
HAZEL, LARKSPUR, WITHY = (ROOT / "examples" / name for name in ("hazel_bank", "larkspur_court", "withy_lane"))
EXAMPLES = sorted(path for path in (ROOT / "examples").iterdir() if path.is_dir())


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def typed(*words: object) -> subprocess.CompletedProcess[str]:
    """The same as a person gets it: a process of its own."""
    command = [sys.executable, "-m", "beckwright", *map(str, words)]
    return subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=False, cwd=ROOT)


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    """Hazel Bank without its survey and with a word where a number should stand."""
    for name in ("job.toml", "pumps.csv", "hoses.csv", "climate.csv"):
        (tmp_path / name).write_bytes((HAZEL / name).read_bytes())
    text = (tmp_path / "job.toml").read_text(encoding="utf-8")
    (tmp_path / "job.toml").write_text(text.replace("sump_mm = 100", 'sump_mm = "deep"'), encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("words", [(), ("--help",), ("-h",)])
def test_help_is_what_comes_without_a_command(words: tuple[str, ...]) -> None:
    ran = run(*words)
    assert ran.exit_code == 0
    assert all(name in ran.stdout for name in ("check", "figures", "explain", "papers", "new", "schema"))


def test_version_is_the_projects() -> None:
    assert re.search(rf'^version = "{run("--version").stdout.strip()}"$', (ROOT / "pyproject.toml").read_text(), re.M)


@pytest.mark.parametrize("folder", EXAMPLES, ids=lambda path: path.name)
def test_check_prints_every_finding_and_ends_by_the_gravest(folder: Path) -> None:
    designed, ran = design(read_job(folder)), run("check", folder)
    findings = all_findings(designed, film_findings(designed, film_set(designed)), Works(designed))
    flat = ran.stdout.replace("\n    ", " ")
    assert [str(finding) for finding in findings if str(finding) not in flat] == []
    assert ran.exit_code == any(finding.severity is Severity.FAIL for finding in findings)


def finding(severity: Severity) -> Finding:
    return Finding(severity=severity, code="a-code", place="Lip 1", says="It is so.", cure="Do this.", source="a book")


def test_findings_stand_the_gravest_first_and_are_counted() -> None:
    told = findings_in_words((finding(Severity.NOTE), finding(Severity.FAIL), finding(Severity.NOTE)))
    assert told.index("FAIL") < told.index("NOTE")
    assert "CAUTION" not in told
    assert told.endswith("1 fail, 2 notes.")
    assert "Lip 1. It is so. Do this." in told
    assert findings_in_words(()) == "Nothing found."
    assert worst_is_fail((finding(Severity.FAIL),))
    assert not worst_is_fail((finding(Severity.CAUTION),))


def test_findings_are_wrapped_to_a_narrow_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "50")
    ran = run("check", HAZEL)
    assert max(map(len, ran.stdout.splitlines())) <= 50


def test_output_that_is_no_terminal_has_no_colours() -> None:
    assert "\x1b" not in run("check", HAZEL).stdout


@pytest.mark.parametrize("command", [("check",), ("figures",), ("explain",)])
def test_a_job_that_cannot_be_read_tells_every_problem(command: tuple[str, ...], broken: Path) -> None:
    with pytest.raises(JobError) as raised:
        read_job(broken)
    ran = run(*command, broken, *(["supply.flow"] if command == ("explain",) else []))
    assert ran.exit_code == 2
    assert ran.stdout == ""
    flat = ran.stderr.replace("\n    ", " ")
    assert len(raised.value.problems) >= 2
    assert all(str(problem) in flat for problem in raised.value.problems)
    assert "survey.csv" in flat
    assert "sump_mm" in flat


@pytest.mark.parametrize("name", ["nowhere", "job.toml"])
def test_a_folder_that_is_none_is_said(name: str) -> None:
    ran = run("check", HAZEL / name)
    assert (ran.exit_code, ran.stdout) == (2, "")
    assert "no" in ran.stderr


@pytest.mark.parametrize("folder", EXAMPLES, ids=lambda path: path.name)
def test_json_holds_every_figure_and_every_documented_field(folder: Path) -> None:
    def strict(constant: str) -> None:
        pytest.fail(f"JSON has no {constant}")

    told = json.loads(run("figures", folder, "--json").stdout, parse_constant=strict)
    designed = design(read_job(folder))
    figures = (*figures_of(designed), *figures_of_works(Works(designed)))
    assert [row["name"] for row in told] == [figure.name for figure in figures]
    assert [row["amount"] for row in told] == [figure.amount for figure in figures]
    documented = re.findall(r"^    (\w+(?:, \w+)*)  +\S", run("figures", "--help").stdout, re.MULTILINE)
    assert set(told[0]) == {name for names in documented for name in names.split(", ")}
    assert {row["grade"] for row in told} <= {grade.value for grade in Grade}


def test_figures_are_picked_by_name_and_by_beginning() -> None:
    told = json.loads(run("figures", LARKSPUR, "supply.flow", "course", "--json").stdout)
    assert [row["name"] for row in told] == ["course.length", "course.fall", "course.end_level", "supply.flow"]


def test_the_table_is_aligned() -> None:
    head, *rows = run("figures", LARKSPUR, "supply").stdout.splitlines()
    grade = head.index("grade")
    assert len(rows) > 10
    assert all(row[grade - 1] == " " and any(row[grade:].startswith(each.value) for each in Grade) for row in rows)


def test_the_ten_are_printed_ten() -> None:
    assert len(run("figures", HAZEL, "--ten").stdout.splitlines()) == 10


@pytest.mark.parametrize("words", [("figures", LARKSPUR, "suply.flow"), ("explain", LARKSPUR, "suply.flow")])
def test_an_unknown_figure_brings_near_misses(words: tuple[object, ...]) -> None:
    ran = run(*words)
    assert (ran.exit_code, ran.stdout) == (2, "")
    assert "suply.flow" in ran.stderr
    assert "  supply.flow\n" in ran.stderr


@pytest.mark.parametrize("kind", [(), ("--json",), ("--csv",), ("--svg",)])
def test_a_film_of_an_unknown_flow_is_said(kind: tuple[str, ...]) -> None:
    ran = run("film", LARKSPUR, "--story", "stop", "--flow", "torrent", *kind)
    assert (ran.exit_code, ran.stdout) == (2, "")
    assert "torrent" in ran.stderr


def test_explain_can_be_followed_by_hand() -> None:
    name = "stored.full.in_motion"
    figure = next(figure for figure in figures_of(design(read_job(WITHY))) if figure.name == name)
    assert figure.equation is not None
    ran = run("explain", WITHY, name)
    assert ran.exit_code == 0
    for symbol, given in zip(figure.equation.symbols, figure.inputs, strict=True):
        cells = (symbol.letter, symbol.meaning, quantity(given.amount, given.unit), f"from {given.comes}")
        row = " +".join(map(re.escape, cells))
        assert re.search(f"^ +{row}$", ran.stdout, re.MULTILINE), symbol.name
    assert quantity(figure.amount, figure.unit) in ran.stdout
    assert figure.equation.formula in ran.stdout
    assert f"Grade: {figure.grade.value}" in ran.stdout
    moved = ran.stdout.partition("What moves it most\n")[2].splitlines()
    assert 2 <= len(moved) <= 9


def test_explain_gives_the_publication_in_full() -> None:
    flat = " ".join(run("explain", WITHY, "supply.friction").stdout.split())
    assert " ".join(SOURCES["swamee-jain-1976"].reference.split()) in flat


def test_papers_are_written_where_they_are_wanted(tmp_path: Path) -> None:
    ran = run("papers", LARKSPUR, "--into", tmp_path / "set")
    told = [Path(line) for line in ran.stdout.splitlines()]
    assert ran.exit_code == 0
    assert sorted(told) == sorted(path for path in (tmp_path / "set").rglob("*") if path.is_file())
    assert (tmp_path / "set" / "papers.pdf").read_bytes().startswith(b"%PDF")


def test_papers_that_cannot_be_written_are_said(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file, not a folder", encoding="utf-8")
    ran = run("papers", LARKSPUR, "--into", tmp_path / "taken")
    assert ran.exit_code == 2
    assert "Choose another folder" in ran.stderr


def test_a_new_job_reads_and_is_never_written_over(tmp_path: Path) -> None:
    first = run("new", tmp_path / "mine")
    assert first.exit_code == 0
    assert run("check", tmp_path / "mine").exit_code in (0, 1)
    before = {path: path.read_bytes() for path in (tmp_path / "mine").iterdir()}
    second = run("new", tmp_path / "mine")
    assert second.exit_code == 2
    assert "job.toml" in second.stderr
    assert {path: path.read_bytes() for path in (tmp_path / "mine").iterdir()} == before


def test_a_new_job_has_papers(tmp_path: Path) -> None:
    run("new", tmp_path / "mine")
    assert typed("papers", tmp_path / "mine", "--into", tmp_path / "out").returncode == 0


def test_schema_is_json() -> None:
    assert json.loads(run("schema").stdout)["$schema"].startswith("https://json-schema.org/")


@pytest.mark.parametrize("name", PAGES)
def test_the_reference_pages_are_up_to_date(name: str) -> None:
    written = (ROOT / "docs" / f"{name}.md").read_text(encoding="utf-8")
    assert written == PAGES[name](), "python3 dev.py docs"


def test_a_slip_of_the_keyboard_ends_with_two_and_no_traceback() -> None:
    ran = typed("chek", LARKSPUR)
    assert ran.returncode == 2
    assert "chek" in ran.stderr
    assert "Traceback" not in ran.stderr


def ended(fault: BaseException, monkeypatch: pytest.MonkeyPatch) -> int | str | None:
    """Run the command line with a command that ends in ``fault``."""

    def fall(**_: object) -> None:
        raise fault

    monkeypatch.setattr(guard, "app", fall)
    monkeypatch.setattr(sys, "argv", ["beckwright", "check", "a_job"])
    with pytest.raises(SystemExit) as end:
        guard.main()
    return end.value.code


@pytest.fixture
def reports(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    return tmp_path


def test_a_fault_of_ours_is_one_sentence_and_a_report(
    reports: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    assert ended(ZeroDivisionError("a depth of nothing"), monkeypatch) == 70
    said = capfd.readouterr()
    (report,) = reports.iterdir()
    assert (said.out, len(said.err.splitlines())) == ("", 1)
    assert "Traceback" not in said.err
    assert str(report) in said.err
    story = report.read_text(encoding="utf-8")
    assert "Traceback" in story
    assert "a depth of nothing" in story
    assert "beckwright check a_job" in story


def test_a_report_that_cannot_be_written_is_said(
    monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def full(**_: object) -> None:
        raise OSError(errno.ENOSPC, "no space left")

    monkeypatch.setattr("tempfile.mkstemp", full)
    assert ended(ZeroDivisionError(), monkeypatch) == 70
    assert "no report" in capfd.readouterr().err


@pytest.mark.parametrize("fault", [KeyboardInterrupt(), SystemExit(130)])
def test_stopped_by_hand(
    fault: BaseException, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    assert ended(fault, monkeypatch) == 130
    assert capfd.readouterr().err == "Stopped.\n"


@pytest.mark.skipif(os.name == "nt", reason="pipes break another way there")
def test_a_reader_that_goes_away_is_met_with_silence() -> None:
    command = [sys.executable, "-m", "beckwright", "schema"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, cwd=ROOT) as writer:
        assert writer.stdout is not None
        writer.stdout.close()
        assert writer.stderr is not None
        assert writer.stderr.read() == b""
    assert writer.returncode == guard.PIPE_CLOSED


def test_a_programme_is_told_and_kept_for_telephones(tmp_path: Path) -> None:
    ran = run("programme", ROOT / "examples" / "hazel_bank", "--ics", tmp_path / "when.ics")
    plan = Works(design(read_job(ROOT / "examples" / "hazel_bank"))).programme
    assert plan is not None
    assert ran.exit_code == 0
    assert all(dated.task.name in ran.stdout.lower() for dated in plan.tasks)
    assert f"{plan.p90:%d %B}" in ran.stdout.replace("\n", " ")
    assert (tmp_path / "when.ics").read_bytes().startswith(b"BEGIN:VCALENDAR")


def test_a_job_without_a_first_day_has_no_programme() -> None:
    ran = run("programme", WITHY)
    assert ran.exit_code == 2
    assert "start = 2026" in ran.stderr
