"""The care command: what it tells, writes and refuses."""

import json
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

from beckwright.cli.commands import app

EXAMPLES = Path(__file__).parents[2] / "examples"
HAZEL = str(EXAMPLES / "hazel_bank")


def _run(*words: str) -> tuple[int, str]:
    ran = CliRunner().invoke(app, list(words))
    return ran.exit_code, ran.output


def test_it_tells_levels_months_tree_and_tasks() -> None:
    code, said = _run("care", HAZEL, "--month", "7")
    assert code == 0
    for words in ("from the lid", "July", "Reservoir low in the morning", "Drain down", "970 mm"):
        assert words in said
    code, said = _run("care", HAZEL, "--month", "7", "--units", "us")
    assert code == 0
    assert " mm" not in said
    assert _run("care", HAZEL, "--month", "13")[0] == 2


def test_as_json_every_number_is_si() -> None:
    told = json.loads(_run("care", HAZEL, "--month", "7", "--json")[1])
    assert told["dips"]["least"] == pytest.approx(0.970)
    assert told["month"] == 7
    assert len(told["dry_day"]) == 12
    assert json.loads(_run("care", str(EXAMPLES / "withy_lane"), "--json")[1])["cuts_out"] == pytest.approx(55, abs=5)


def test_the_calendar_goes_into_a_file(tmp_path: Path) -> None:
    assert _run("care", HAZEL, "--ics", str(tmp_path / "care.ics"))[0] == 0
    assert (tmp_path / "care.ics").read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")
    code, said = _run("care", HAZEL, "--ics", str(tmp_path / "no" / "care.ics"))
    assert code == 2
    assert "cannot be written" in said


def test_the_record_is_told_in_words(tmp_path: Path) -> None:
    rows = [f"{2027 + turn},flow_l_h,{value}" for turn, value in enumerate((5200, 5060, 4890, 4760))]
    path = tmp_path / "service.csv"
    path.write_text("\n".join(["year,item,value", *rows]))
    code, said = _run("care", HAZEL, "--service", str(path))
    assert code == 0
    assert "less a year" in said
    assert "everyday" in said
    path.write_text("year,item,value\n2027,flow,1\n")
    code, said = _run("care", HAZEL, "--service", str(path))
    assert code == 2
    assert "flow_l_h" in said
    assert _run("care", HAZEL, "--service", str(tmp_path / "none.csv"))[0] == 2


def test_what_is_past_its_limit_is_told_as_past(tmp_path: Path) -> None:
    rows = [f"{2027 + turn},flow_l_h,{value}" for turn, value in enumerate((4600, 4480, 4330, 4190))]
    (tmp_path / "service.csv").write_text("\n".join(["year,item,value", *rows]))
    said = " ".join(_run("care", HAZEL, "--service", str(tmp_path / "service.csv"))[1].split())
    assert "It is past that now" in said


def test_edges_of_several_dates(tmp_path: Path) -> None:
    rows = "place,left_m,right_m\n3.0,{},101.438\n"
    (tmp_path / "as_built_2026-12-01.csv").write_text(rows.format("101.420"))
    (tmp_path / "as_built_2027-12-01.csv").write_text(rows.format("101.372"))
    both = [str(path) for path in sorted(tmp_path.glob("*.csv"))]
    code, said = _run("care", HAZEL, "--settling", both[0], "--settling", both[1])
    assert code == 0
    assert "left edge" in said
    (tmp_path / "undated.csv").write_text(rows.format("101.372"))
    code, said = _run("care", HAZEL, "--settling", str(tmp_path / "undated.csv"))
    assert code == 2
    assert "date" in said


def test_a_second_feature_is_weighed() -> None:
    code, said = _run("care", HAZEL, "--second-feature", "800", "--lift-m", "1.2", "--holds-l", "30-50")
    assert code == 0
    assert "30 to 50 L" in said
    assert _run("care", str(EXAMPLES / "withy_lane"), "--second-feature", "800")[0] == 1
    code, said = _run("care", HAZEL, "--second-feature", "800", "--holds-l", "much")
    assert code == 2
    assert "--holds-l" in said


def test_a_repair_begins_with_what_is_there(tmp_path: Path) -> None:
    job = shutil.copytree(HAZEL, tmp_path / "job")
    code, said = _run("as-built", str(job), "--into", str(tmp_path / "repair"))
    assert code in (0, 1)
    assert "job.toml" in said
    assert _run("as-built", str(job), "--into", str(tmp_path / "repair"))[0] == 2
    assert _run("figures", str(tmp_path / "repair"), "--ten")[0] == 0
