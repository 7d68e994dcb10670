"""The only reader of job folders: a Job in SI, or one error that lists everything wrong with it."""

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache, lru_cache
from pathlib import Path
from typing import Any, Protocol

from pydantic import TypeAdapter

from beckwright.base.errors import JobError, Problem
from beckwright.job.checks import check, check_doubts
from beckwright.job.checks.weather import named_here
from beckwright.job.convert import job_from
from beckwright.job.model import Climate, Job, Weather
from beckwright.job.tables import STATION, read_climate, read_edges, read_hoses, read_pumps, read_survey
from beckwright.job.tables.files import MEGABYTE, take_text
from beckwright.job.tables.prices import read_prices
from beckwright.job.tables.quote import read_quote
from beckwright.job.tables.tasks import read_tasks
from beckwright.job.tables.weather import read_weather
from beckwright.job.wording.keylines import KeyLines, toml_held
from beckwright.job.wording.keylines import Path as KeyPath
from beckwright.job.wording.sentences import place_of, problems_from
from beckwright.job.wording.syntax import depth_problem, syntax_problem
from beckwright.job.written import Written, held_to_form, meanings

LARGEST_JOB = 1 * MEGABYTE
"""Bytes of job.toml: a hand-written file is a hundredth of it."""

TABLES = (
    "climate.csv", "edges.csv", "hoses.csv", "prices.csv", "pumps.csv", "quote.csv", "survey.csv", "tasks.csv",
)  # fmt: skip
"""Every file a job is read from beside job.toml, but for those job.toml names."""
_NAMED = re.compile(r"""["']([A-Za-z0-9_-]{1,76}\.csv)["']""")

Parts = dict[str, Any]
"""Sections as written and tables read, by name; what could not be read is not in it."""


class Take(Protocol):
    """How a table is taken in: ``read(path, *told, problems)``, or what it gave the last time."""

    def __call__(self, read: Any, path: Path, problems: list[Problem], *told: str) -> Any:
        """Give back the table, or None after adding to ``problems`` why there is none."""


@lru_cache(maxsize=64)
def tables_of(text: str) -> tuple[str, ...]:
    """Names of all tables a text of job.toml may be read with: what whoever keeps the job has to keep, in order."""
    return tuple(sorted({*TABLES, *_NAMED.findall(text)}))


def read_at_once(read: Any, path: Path, problems: list[Problem], *told: str) -> Any:
    """Take a table from its file."""
    return read(path, *told, problems)


def read_job(folder: Path | str) -> Job:
    """Read a job folder: job.toml, survey.csv, pumps.csv, hoses.csv, and its other tables where they are.

    Raises ``JobError`` with every problem of all the files, each with its file, line and key.
    """
    folder = Path(folder)
    if not folder.is_dir():
        rule, remedy = "A job is a folder with job.toml and its tables in it", "Give the folder's name"
        raise JobError([Problem(place=folder.name, found="there is no such folder", rule=rule, remedy=remedy)])
    problems: list[Problem] = []
    text = take_text(folder / "job.toml", largest=LARGEST_JOB, problems=problems)
    return _job_of(text, folder, problems, read_at_once)


def read_job_text(text: str, folder: Path, take: Take = read_at_once) -> Job:
    """Read a job from the text of its job.toml, saved or not, and the tables that lie in ``folder``.

    take  how each table is taken in: whoever reads the same folder again and again may keep what has not changed
    Raises ``JobError`` as ``read_job`` does.
    """
    problems: list[Problem] = []
    if len(text.encode()) > LARGEST_JOB:
        found, rule = "it has grown too large", f"job.toml may hold {LARGEST_JOB / MEGABYTE:g} MB"
        raise JobError([Problem(place="job.toml", found=found, rule=rule, remedy="Take something out of it")])
    return _job_of(text.replace("\r\n", "\n"), folder, problems, take)


def _job_of(text: str | None, folder: Path, problems: list[Problem], take: Take) -> Job:
    """The job; ``text`` is None where it could not be read, and ``problems`` say why."""
    given, lines = (None, {}) if text is None else _parse(text, problems)
    parts = _sections(given, lines, problems) if given is not None else {}
    parts |= _tables(folder, parts, lines, problems, take)
    problems.extend(check(parts, lines))
    if given is not None and "job" in parts:
        problems.extend(check_doubts(parts["job"].doubts, given, lines))
    if problems:
        raise JobError(problems)
    written = Written.model_construct(**{name: parts[name] for name in Written.model_fields})
    tables = {name: parts.get(name) for name in ("climate_months", "edges", "weather")}
    return job_from(
        written,
        survey=parts["survey"],
        pumps=parts["pumps"],
        hoses=parts["hoses"],
        climate=tables["climate_months"],
        weather=tables["weather"],
        edges=tables["edges"],
        own_tasks=parts.get("own_tasks", ()),
        price_list=parts["price_list"],
        quote=parts["quote"],
    )


def _parse(text: str, problems: list[Problem]) -> tuple[dict[str, Any] | None, Mapping[KeyPath, int]]:
    try:
        return toml_held(text), KeyLines(text)
    except ValueError as error:
        problems.append(syntax_problem(error, text, "job.toml"))
    except RecursionError:
        problems.append(depth_problem("job.toml"))
    return None, {}


def _sections(given: dict[str, Any], lines: Mapping[KeyPath, int], problems: list[Problem]) -> Parts:
    """Read the sections that can be read; what is wrong with the others goes to the problems."""
    whole = held_to_form(given)
    if not isinstance(whole, Written):
        details = whole.errors(include_url=False)
        problems.extend(problems_from(details, lines=lines, schema=meanings()))
        faulty = {detail["loc"][0] for detail in details}
        sound = {name: field for name, field in Written.model_fields.items() if name not in faulty}
        return {
            name: _section(name).validate_python(given[name]) if name in given else field.get_default()
            for name, field in sound.items()
        }
    return {name: getattr(whole, name) for name in Written.model_fields}


@cache
def _section(name: str) -> TypeAdapter[Any]:
    """What reads a section alone, the same each time."""
    return TypeAdapter(Written.model_fields[name].rebuild_annotation())


def _tables(folder: Path, parts: Parts, lines: Mapping[KeyPath, int], problems: list[Problem], take: Take) -> Parts:
    """Read the tables that can be read, by name."""

    def where_given(name: str, read: Any, other: Any) -> Any:
        path = folder / name
        return take(read, path, problems) if path.exists() else other

    read = {
        "survey": take(read_survey, folder / "survey.csv", problems),
        "pumps": take(read_pumps, folder / "pumps.csv", problems),
        "hoses": take(read_hoses, folder / "hoses.csv", problems),
        "climate_months": _climate(folder / "climate.csv", parts, lines, problems, take),
        "weather": _weather(folder, parts, problems, take),
        "edges": where_given("edges.csv", read_edges, None),
        "price_list": where_given("prices.csv", read_prices, ()),
        "quote": where_given("quote.csv", read_quote, ()),
        "own_tasks": where_given("tasks.csv", read_tasks, None),
    }
    return {name: table for name, table in read.items() if table is not None}


def _climate(
    path: Path, parts: Parts, lines: Mapping[KeyPath, int], problems: list[Problem], take: Take
) -> Climate | None:
    station = parts["climate"].station if "climate" in parts else None
    if station is None:
        return None
    found: list[Problem] = []
    table: Climate | None = take(read_climate, path, found, station)
    problems.extend(
        replace(each, place=place_of(("climate", "station"), lines)) if each.place == STATION else each
        for each in found
    )
    return table


def _weather(folder: Path, parts: Parts, problems: list[Problem], take: Take) -> Weather | None:
    season = parts.get("season")
    if season is None or season.days is None or not named_here(season.days):
        return None
    table: Weather | None = take(read_weather, folder / season.days, problems, str(season.fill_gaps_days))
    return table
