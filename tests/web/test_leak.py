"""Leak or not on a telephone: kept as typed, told beside what was understood, one record with the job's own table."""

import re
import shutil
from hashlib import sha256
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from typer.testing import CliRunner

from beckwright.cli.commands import app
from beckwright.readings.leak.sheet import RULE
from beckwright.web.app import make_app
from tests.web.conftest import EXAMPLES, Page

SEEN = "2026-09-02T22:00:00+00:00"
DIGEST = sha256((EXAMPLES / "withy_lane" / "leak_test.csv").read_bytes()).hexdigest()


@pytest.fixture(scope="module")
def withy(tmp_path_factory: pytest.TempPathFactory) -> Page:
    """Withy Lane, with the tests its file has; nobody writes in it."""
    return Page(make_app(Path(shutil.copytree(EXAMPLES / "withy_lane", tmp_path_factory.mktemp("w") / "withy_lane"))))


def put(client: Page, at: str, level: str, **content: Any) -> str:
    word = uuid4().hex
    held = {"row": word, "at": f"2026-09-02T{at}+01:00", "level": level, "from": "floor", "pump": "off"} | content
    body = {"mark": uuid4().hex, "kind": "leak test", "seen": SEEN, "content": held}
    assert client.post("/api/readings", json=body).status_code == 200
    return word


def say(client: Page, row: str, word: str) -> None:
    content = {"row": row, "word": word}
    body = {"mark": uuid4().hex, "kind": "word on a row", "seen": SEEN, "content": content}
    assert client.post("/api/readings", json=body).status_code == 200


def told(client: Page) -> Any:
    return client.get("/api/slope/leak").json()


def test_the_readings_of_the_file_show_with_what_the_command_line_tells(withy: Page) -> None:
    assert "slope_leak.js" in withy.get("/slope/leak").text
    answer = told(withy)
    assert (len(answer["rows"]), answer["rows"][-1]["line"], answer["left_out"]) == (76, 2, 0)
    assert [each["name"] for each in answer["tests"]] == ["T4", "T3", "T2", "T1"]
    assert DIGEST in answer["says"][-1]
    assert any("left edge" in each for each in answer["says"])
    assert answer["next"]["do"].startswith("Lay the hose to just below lip 1")
    chart = answer["tests"][0]["chart"]
    assert len(chart["points"]) == 17
    xs, ys = zip(*chart["points"], strict=True)
    assert list(xs) == sorted(xs)
    # The levels end below what evaporation alone would leave: the lowest point of the band at the last reading.
    ends = [float(y) for x, y in re.findall(r"([\d.]+) ([\d.]+)", chart["band"]) if float(x) == xs[-1]]
    assert ys[-1] > max(ends)


def test_the_report_is_a_file_whose_readings_bear_their_digest(withy: Page) -> None:
    answer = withy.get("/api/slope/leak/report")
    assert answer.headers["content-type"].startswith("text/plain")
    assert "attachment" in answer.headers["content-disposition"]
    assert sha256(answer.content.split(f"{RULE}\n".encode())[1]).hexdigest() == DIGEST


def test_nothing_read_is_said(client: Page) -> None:
    answer = told(client)
    assert (answer["rows"], answer["tests"], answer["now"]["way"]) == ([], [], "nothing read yet")
    assert answer["next"]["do"].startswith("Turn the pump off")
    for refused in (client.get("/api/slope/leak/report"), client.post("/api/slope/leak/file")):
        assert refused.status_code == 422
        assert refused.json()["problems"][0]["remedy"] == "Write a reading first"


def test_a_test_goes_on_until_it_says_enough(client: Page) -> None:
    for minute, level in ((0, "400"), (30, "399,6"), (60, "399.9")):
        put(client, f"{17 + minute // 60}:{minute % 60:02d}", level)
    answer = told(client)
    assert answer["now"]["way"].endswith("left in T1")
    assert (answer["next"]["test"], answer["next"]["again"], answer["next"]["until"]) == ("T1", "18:30", "19:30")
    assert answer["rows"][1]["level"] == "399,6"
    assert answer["rows"][1]["understood"] == "399.6 mm"


def test_a_bad_row_is_asked_about_beside_it_and_taken_once_it_is_right(client: Page) -> None:
    put(client, "09:00", "400")
    put(client, "09:30", "399.8")
    late = put(client, "09:15", "399.9")
    row = told(client)["rows"][0]
    assert (row["row"], row["counts"], row["usable"]) == (late, False, True)
    assert "mistyped minute" in row["asked"][0]
    say(client, late, "right")
    assert [each["asked"] for each in told(client)["rows"]] == [[], [], []]
    assert told(client)["tests"][0]["count"] == 3


def test_a_row_is_struck_out_by_a_word_and_never_erased(client: Page) -> None:
    put(client, "09:00", "400")
    wrong = put(client, "09:30", "39O")
    say(client, wrong, "struck")
    struck, kept = told(client)["rows"]
    assert (struck["struck"], struck["level"], struck["asked"], kept["struck"]) == (True, "39O", [], False)
    assert "Struck out: 2026-09-02T09:30+01:00, level 39O mm" in client.get("/api/slope/leak/report").text


def test_the_table_is_what_the_command_line_reads_and_one_record_with_the_page(client: Page, folder: Path) -> None:
    for hour, level in ((9, "400"), (10, "399.5"), (11, "399.2"), (12, "4OO")):
        put(client, f"{hour:02d}:00", level, note='by "eye", twice')
    assert client.post("/api/slope/leak/file").json() == {"file": "leak_test.csv", "left_out": 1}
    digest = sha256((folder / "leak_test.csv").read_bytes()).hexdigest()
    answer = told(client)
    assert len(answer["rows"]) == 4
    assert digest in answer["says"][-1]
    assert client.post("/api/slope/leak/file").json()["file"] == "leak_test.csv"
    assert told(client)["reads"] == ""
    put(client, "13:00", "398.9")
    assert client.post("/api/slope/leak/file").json()["file"] == "leak_test_2.csv"
    # The second table is the whole record; the page goes on with the first and what was typed, and counts none twice.
    answer = told(client)
    assert answer["reads"] == "Read: leak_test.csv and what was typed here. Not read: leak_test_2.csv."
    assert (len(answer["rows"]), answer["tests"][0]["count"]) == (5, 4)
    assert sha256((folder / "leak_test_2.csv").read_bytes()).hexdigest() in answer["says"][-1]
    said = CliRunner().invoke(app, ["readings", "leak", str(folder)]).output
    assert "Read: leak_test.csv. Not read: leak_test_2.csv." in said
    assert sha256((folder / "leak_test.csv").read_bytes()).hexdigest() == digest


def test_a_file_nobody_can_read_is_told_and_the_page_goes_on(client: Page, folder: Path) -> None:
    (folder / "leak_test.csv").write_text("test,condition,time_h\nA,pump off,0\n")
    put(client, "09:00", "400")
    answer = told(client)
    assert "reservoir_level_mm_above_floor is missing" in answer["problems"][0]["found"]
    assert len(answer["rows"]) == 1


def test_a_row_out_of_its_form_is_refused(client: Page) -> None:
    content = {"row": uuid4().hex, "level": "400", "from": "the sky"}
    body = {"mark": uuid4().hex, "kind": "leak test", "seen": SEEN, "content": content}
    assert client.post("/api/readings", json=body).status_code == 422
    assert told(client)["rows"] == []
