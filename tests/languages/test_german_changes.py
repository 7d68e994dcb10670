"""German of what changed between two texts of a job: every key of the four jobs, changed, taken out and added."""

import dataclasses
import importlib
import pkgutil
import re
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from beckwright.job import model
from beckwright.job.edit.changes import Two, _within
from beckwright.job.edit.naming import ONE_OF, label, reaches_named
from beckwright.job.written import Written
from beckwright.web.why.measuring import HOW

from .test_german import EXAMPLES, NAMES
from .test_german_figures import _given, _left


def _held(name: str) -> dict[str, Any]:
    return tomllib.loads((EXAMPLES / name / "job.toml").read_text(encoding="utf-8"))


def _otherwise(held: Any) -> Any:
    """The same job with every value another one of its kind, names apart: they say which rows are the same."""
    if isinstance(held, Mapping):
        return {key: each if key in ("name", "plant") else _otherwise(each) for key, each in held.items()}
    if isinstance(held, list):
        return [_otherwise(each) for each in held]
    if isinstance(held, bool):
        return not held
    if isinstance(held, int | float):
        return held + 1
    return f"{held} too" if isinstance(held, str) else held


def _told(old: dict[str, Any], new: dict[str, Any]) -> set[str]:
    names = (reaches_named(old), reaches_named(new))
    return {str(each) for each in _within(Two(old=old, new=new, path=(), of=""), names)}


@pytest.mark.parametrize("name", NAMES)
def test_changes_are_german(name: str) -> None:
    held = _held(name)
    other = _otherwise(held)
    told = _told(held, other) | _told(held, {}) | _told({}, held)
    # A name with an initial ends a sentence for a phrasebook: such a row is told in English.
    told = {each for each in told if not re.match(r"People \w\. ", each)}
    assert len(told) > 250
    # What is quoted is the job's own, or a word of its file.
    assert _left({re.sub(r'"[^"]*"', '"-"', each) for each in told}, _given(name)) == {}


def _keys(schema: Any) -> Iterator[str]:
    if isinstance(schema, Mapping):
        for key, each in schema.items():
            if key == "properties":
                yield from each
            yield from _keys(each)
    elif isinstance(schema, list):
        for each in schema:
            yield from _keys(each)


def test_keys_are_german() -> None:
    """Every key there is, with its unit and without."""
    keys = set(_keys(Written.model_json_schema()))
    assert len(keys) > 250
    assert _left({label(key) for key in keys} | {key.replace("_", " ") for key in keys} | set(ONE_OF.values())) == {}


def test_how_a_doubt_is_measured_is_german() -> None:
    assert _left({how for _, how in HOW} | {"Measure it on site, and write down how."}) == {}


def test_inputs_that_move_a_figure_are_german() -> None:
    """Every field of the job, as the page why calls it."""
    modules = [
        importlib.import_module(each.name) for each in pkgutil.walk_packages(model.__path__, f"{model.__name__}.")
    ]
    kinds = [kind for module in modules for kind in vars(module).values() if dataclasses.is_dataclass(kind)]
    names = {field.name.replace("_", " ") for kind in kinds for field in dataclasses.fields(kind)}
    assert len(names) > 250
    assert _left(names) == {}
