"""German where it was once lacking: the leak test, the switch-on and the years after, as pages and as reports."""

import csv
import re
import shutil
from collections.abc import Iterable, Iterator
from dataclasses import replace
from html import unescape
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from beckwright import design, read_job
from beckwright.compose import Design
from beckwright.languages import LANGUAGES, phrasebook, told_in
from beckwright.readings.leak import (
    Doubt,
    Series,
    full_of,
    leak_book,
    leak_test,
    next_step,
    plain_sheet,
    read_leak_tests,
    report,
)
from beckwright.readings.leak.sheet import RULE, asked
from beckwright.readings.switch_on import KINDS, Morning, read_switch_on, switch_on, wording
from beckwright.readings.switch_on import report as first_report
from beckwright.readings.switch_on.report import likely
from beckwright.tables.switch_on import CAUSES
from beckwright.web.app import make_app
from tests.web.conftest import EXAMPLES, Page

from .test_german import _theirs

NAMES = ("withy_lane", "fennymoor_park")
PAGES = ("/slope/leak", "/slope/switch-on", "/care", "/care/record", "/care/settling", "/care/second")
NO_WORDS = {
    *("at", "hours", "level", "from", "mark", "comes_in", "note", "row", "key", "band", "file", "severity", "seen"),
    *(
        "kept",
        "d",
        "codes",
        "code",
        "first",
        "yes",
        "no",
        "item",
        "telephone",
        "year",
        "amount",
        "typed",
        "seconds",
        "source",
    ),
}
"""Keys whose values no person reads, or that are what was typed."""

ENGLISH = re.compile(
    r"\b(?:the|and|were|with|without|of|from|at|off|is|are|it|its|to|for|than|or|by|only|each|not|this|that|would|which"
    r"|more|less|over|under|shown|least|level|levels|pump|reading|readings|reservoir|stream|edge|before|after|rain)\b"
)
"""Words German has none of: what a phrase took for a name and let stand is found by them."""
_ROWS = csv.DictReader((EXAMPLES / "withy_lane" / "leak_test.csv").read_text(encoding="utf-8").splitlines())
GIVEN = sorted({row["condition"] for row in _ROWS}, key=len, reverse=True)
"""What people wrote into the table of the job."""


def _words(told: Any, key: str = "") -> Iterator[str]:
    """Every text of an answer that a person reads."""
    if isinstance(told, dict) and {"found", "remedy"} <= set(told):
        # The pages put a problem together so, with its rule or without.
        yield f"{told['place']}: {told['found']}. {told['remedy']}."
    elif isinstance(told, dict) and "comes" in told:
        yield f"{told['day']}: {told['edges']} edges, {told['comes']}"
    elif isinstance(told, dict):
        for name, each in told.items():
            yield from _words(each, name)
    elif isinstance(told, list):
        for each in told:
            yield from _words(each, key)
    elif isinstance(told, str) and key not in NO_WORDS:
        yield told


def _left(job: Design, texts: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """Texts with what in them no phrase holds, but for what people of the job wrote."""
    book, name = phrasebook("de"), _folder(job).name
    found = {}
    for words in sorted(set(texts)):
        missing = tuple(
            each
            for each in book.missing(words.replace("\u202f", "\u2009"))
            if name not in each and not _theirs(name, each)
        )
        said = book.say(words)
        for each in (*GIVEN, *(person.name for person in job.job.people)):
            said = said.replace(each, "")
        english = tuple(ENGLISH.findall(said))
        if missing or english:
            found[words] = missing + english
    return found


@pytest.fixture(scope="module", params=NAMES)
def job(request: pytest.FixtureRequest) -> Design:
    return design(read_job(EXAMPLES / str(request.param)))


def _folder(job: Design) -> Path:
    return EXAMPLES / next(name for name in NAMES if name.split("_")[0] in job.job.title.name.lower())


def _edges(job: Design, sunk: float) -> str:
    """Both edges at every lip but the source's, the left one lower from visit to visit."""
    rows = (f"{lip.chainage:g},{lip.crest + 0.2 - sunk:.3f},,{lip.crest + 0.2:.3f},," for lip in job.water.lips[1:])
    return "\n".join(["place,left_m,middle_m,right_m,dig_m,note", *rows]) + "\n"


ROWS: tuple[tuple[str, dict[str, str]], ...] = (
    *(
        ("leak test", {"at": f"2026-09-0{day}T{hour:02d}:00+01:00", "level": level, "from": "floor", "pump": "off"})
        for day, hour, level in (
            *((2, 9, "400"), (2, 10, "399.5"), (2, 11, "39.91"), (2, 12, "4OO"), (2, 8, "399"), (2, 13, "")),
            *((3, hour, f"{390 - hour / 4:g}") for hour in range(8)),
        )
    ),
    *(
        ("service", {"item": item, "year": f"{2027 + turn}", "amount": amount})
        for item, amounts in (
            ("flow_l_h", ("5200", "5060", "4890", "4760", "46", "-3")),
            ("leak_l_h", ("0.1", "0.2", "0.31")),
            ("watts", ("60", "60", "60")),
            ("edge_low_mm", ("80",)),
            ("draw_down_mm", ("80", "84", "85", "91")),
        )
        for turn, amount in enumerate(amounts)
    ),
    ("service", {"item": "watts", "year": "soon", "amount": "60"}),
    *(
        ("switch-on", {"kind": "bucket", "flow": "", "amount": "20", "seconds": each})
        for each in ("11.0", "10.9", "40", "x")
    ),
    ("switch-on", {"kind": "steady", "flow": "", "amount": "380"}),
)
"""Rows of every page, some of which are asked about; an empty flow is the job's first."""


@pytest.fixture(scope="module")
def page(job: Design, tmp_path_factory: pytest.TempPathFactory) -> Page:
    """A copy of the job with readings of everything."""
    there = Path(shutil.copytree(_folder(job), tmp_path_factory.mktemp("job") / _folder(job).name))
    for year in (2027, 2028, 2029):
        (there / f"as_built_{year}-11-20.csv").write_text(_edges(job, (year - 2027) * 0.04))
    (there / "leak_test_2.csv").write_text("an older one")
    client = Page(make_app(there))
    for which, content in ROWS:
        if which == "switch-on" and there.name == "withy_lane":
            # Its first morning is asked for below, from its own file: the sums are the slow ones.
            continue
        told = content | ({"flow": job.water.names[0]} if "flow" in content else {})
        _put(client, which, **told)
    return client


def _put(client: Page, which: str, /, **content: str) -> None:
    body = {"mark": uuid4().hex, "kind": which, "seen": "2032-09-02T22:00:00+00:00"}
    answer = client.post("/api/readings", json=body | {"content": {"row": uuid4().hex, **content}})
    assert answer.status_code == 200, answer.text


@pytest.mark.parametrize("address", PAGES)
def test_the_pages_are_german(page: Page, job: Design, address: str) -> None:
    html = page.get(address).text.replace("<wbr>", "")
    texts = {" ".join(unescape(each).split()) for each in re.findall(r">([^<>]*[A-Za-z][^<>]*)<", html)}
    texts |= {unescape(each) for _, each in re.findall(r' (aria-label|title|placeholder)="([^"]*)"', html)}
    assert _left(job, texts - set(LANGUAGES.values())) == {}


SECOND = {"flow": "800", "lift": "1.2", "least": "30", "most": "50"}
ASKED: tuple[tuple[str, dict[str, Any] | None], ...] = (
    *((f"/api/slope/{each}", None) for each in ("leak", "switch-on", "switch-on/causes")),
    *((f"/api/care{each}", None) for each in ("?month=7", "/record", "/settling", "/second")),
    ("/api/care/second", SECOND),
    ("/api/care/second", SECOND | {"flow": "60000", "lift": "9", "least": "2000", "most": "3000"}),
    ("/api/care/second", SECOND | {"flow": "much", "lift": "400", "least": "60"}),
    *(
        ("/api/care/judge", {"month": 7, "down": down, "amount": amount, "over": over})
        for down, amount, over in (("2", 1, "nights"), ("60", 3, "nights"), ("80", 2, "hours"), ("33", 1, "days"))
    ),
)


@pytest.mark.parametrize(("address", "body"), ASKED)
def test_what_the_pages_are_told_is_german(page: Page, job: Design, address: str, body: dict[str, Any] | None) -> None:
    told = page.get(address) if body is None else page.post(address, json=body)
    assert _left(job, _words(told.json())) == {}


WITHY = EXAMPLES / "withy_lane"
HEAD = (
    "test,condition,time_h,reservoir_level_mm_above_floor,rain_mm_in_interval,evaporation_mm_in_interval,"
    "top_up_l_in_interval,water_temperature_c\n"
)


@pytest.fixture(scope="module")
def withy() -> Design:
    return design(read_job(WITHY))


def _read(withy: Design, path: Path) -> tuple[tuple[Series, ...], tuple[Doubt, ...], str]:
    return read_leak_tests(path, flows=withy.water.names, full=full_of(withy), length=withy.course.length)


def _tests(fall: float, **more: tuple[str, float]) -> str:
    """A test at rest and others at flows, levels falling evenly with a stir; rain, filling up and a warm day come."""
    rows = [("R", "pump off", fall / 8, 300.0), *((name, cells, fell, 250.0) for name, (cells, fell) in more.items())]
    made = []
    for name, condition, falls, start in rows:
        for hour in range(8):
            stir = 0.05 * (-1) ** hour
            wet = 2.0 if hour == 3 and name != "R" else 0.0
            level = start - falls * hour + stir
            made.append(f'{name},"{condition}",{hour},{level:.2f},{wet},,{5.0 if hour == 5 else 0.0},{12 + hour / 4}')
    return HEAD + "\n".join(made) + "\n"


def _told(withy: Design, path: Path) -> Iterator[str]:
    """Report and next step after each of the tests of a table."""
    series, doubts, digest = _read(withy, path)
    for count in range(len(series) + 1):
        found = leak_test(withy, series[:count], doubts, digest)
        step = next_step(withy, found, series[:count])
        yield from (step.do, step.why)
        if found.measured:
            yield from report(withy, found)
        yield from map(asked, found.doubts)


def test_the_leak_report_is_german(withy: Design, tmp_path: Path) -> None:
    texts = set(_told(withy, WITHY / "leak_test.csv"))
    for turn, text in enumerate((_tests(0.0, F=("pump on full", 0.02)), _tests(9.0, F=("pump on full", 0.9)))):
        path = tmp_path / f"leak_{turn}.csv"
        path.write_text(text)
        texts |= set(_told(withy, path))
    assert any(" of rain given back" in each for each in texts)
    assert any("swelling" in each for each in texts)
    assert _left(withy, texts) == {}


def test_the_report_that_is_sent_is_german_and_its_table_is_not(withy: Design) -> None:
    book = leak_book(WITHY / "leak_test.csv", (), (), withy)
    series, doubts, digest = _read(withy, WITHY / "leak_test.csv")
    with told_in("de"):
        said = plain_sheet(withy, leak_test(withy, series, doubts, digest), book)
    head, table, _ = said.split(f"{RULE}\n")
    assert table.encode() == (WITHY / "leak_test.csv").read_bytes()
    assert "Ein Verlust von" in head or "ein Verlust von" in head
    assert digest in head
    assert not re.search(r"\b(the|and|was|with|of)\b", head)


def test_the_first_morning_is_german(withy: Design) -> None:
    found = switch_on(withy, read_switch_on(WITHY / "switch_on.csv", withy))
    texts = {
        *first_report(withy, found),
        *(f"Asked: line {each.line}: {each.found}. {each.asks}" for each in found.doubts),
    }
    texts |= {*wording.DOES, *wording.DOES.values(), *(kind.tells for kind in KINDS.values())}
    texts |= {_much(found, name) for name in CAUSES}
    assert _left(withy, texts) == {}


def _much(found: Morning, name: str) -> str:
    """The sentence of a cause as if it were the likeliest."""
    cause = next(each for each in found.causes if each.name == name)
    return list(likely(replace(found, causes=(replace(cause, chance=1.0),))))[-1]
