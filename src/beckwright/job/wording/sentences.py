"""Turn what the validator found into problems a builder can act on. Its own jargon never gets out."""

import difflib
import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from beckwright.base.errors import Problem
from beckwright.job.wording.keylines import Path, line_of

UNITS = {
    "_l_h": "l/h", "_kg_m3": "kg/m3", "_kg_m2": "kg/m2", "_kg_m": "kg/m", "_kn_m3": "kN/m3", "_kpa": "kPa", "_kn": "kN",
    "_kg": "kg", "_mj_m2": "MJ/m2", "_m_s": "m/s", "_hours": "h",
    "_mm": "mm", "_m": "m", "_deg": "°", "_percent": "%", "_c": "°C", "_w": "W",
}  # fmt: skip
REACH_KINDS = ("run", "step", "pool")
LONGEST = 60
"""Characters of a person's own text that a message repeats."""

MOST_COMPARED = 500
"""Known words a wrong one is held against."""

Detail = Mapping[str, Any]
Sentence = tuple[str, str, str]


def unit_of(key: str) -> str:
    """Return the unit a key's name ends in, or an empty text."""
    return next((unit for ending, unit in UNITS.items() if key.endswith(ending)), "")


def shown(given: object, key: str = "") -> str:
    """Return a written value as a message repeats it, short, with its unit where it is a number."""
    if isinstance(given, bool):
        return "true" if given else "false"
    if isinstance(given, int | float):
        return with_unit(given, unit_of(key))
    if isinstance(given, str):
        return f'"{_short(given)}"'
    if isinstance(given, list | tuple):
        return f"a list of {len(given)}" if given else "an empty list"
    return "a section" if isinstance(given, Mapping) else _short(str(given))


def with_unit(given: float, unit: str) -> str:
    """Return a number as a message writes it."""
    if isinstance(given, float) and not math.isfinite(given):
        return str(given)
    if isinstance(given, int) and abs(given) >= 10**15:
        return "a huge number"
    return f"{given:.10g} {unit}".strip()


def near_miss(wrong: str, known: Iterable[str]) -> str:
    """Return the known word nearest to a wrong one, or an empty text."""
    close = difflib.get_close_matches(wrong[:LONGEST], list(known)[:MOST_COMPARED], n=1, cutoff=0.6)
    return close[0] if close else ""


def dotted(path: Path) -> str:
    """Return a path as a message names it: ``course.reaches.2.drop_mm`` is in the second reach."""
    return ".".join(str(part + 1) if isinstance(part, int) else _short(part) for part in path)


def place_of(path: Path, lines: Mapping[Path, int], file: str = "job.toml") -> str:
    """Return file, line and key in words."""
    line = line_of(path, lines)
    where = f"{file} line {line}" if line else file
    return f"{where} {dotted(path)}".strip()


def problems_from(details: Sequence[Detail], *, lines: Mapping[Path, int], schema: Mapping[str, Any]) -> list[Problem]:
    """Translate the validator's details into problems, a misspelt key into one and not into two.

    details  each with ``loc``, ``type``, ``input`` and ``ctx`` as the validator gives them
    lines    line of each key
    schema   JSON Schema of the whole file: what each key means
    """
    wrong = [detail["loc"] for detail in details if detail["type"] == "extra_forbidden"]
    return [_problem_from(detail, lines=lines, schema=schema) for detail in details if not _misspelt(detail, wrong)]


def _misspelt(detail: Detail, wrong: Sequence[Path]) -> bool:
    """Tell whether what is missing stands beside it under a misspelt name, which has a problem of its own."""
    path = detail["loc"]
    beside = [str(other[-1]) for other in wrong if other[:-1] == path[:-1]]
    return detail["type"] == "missing" and any(near_miss(name, [str(path[-1])]) for name in beside)


def _problem_from(detail: Detail, *, lines: Mapping[Path, int], schema: Mapping[str, Any]) -> Problem:
    path = _without_tags(detail["loc"])
    key = next((part for part in reversed(path) if isinstance(part, str)), "")
    about = Told(key=key, path=path, schema=schema, detail=detail)
    found, rule, remedy = SENTENCES.get(detail["type"], _other)(about)
    return Problem(place=place_of(path, lines), found=found, rule=rule, remedy=remedy)


class Told:
    """What a sentence may speak of: the key, its meaning and unit, the value found, the bound broken."""

    def __init__(self, *, key: str, path: Path, schema: Mapping[str, Any], detail: Detail) -> None:
        self.key, self.path, self.detail = key, path, detail
        here, around = _node(schema, detail["loc"]), _node(schema, detail["loc"][:-1])
        self.unit = "" if here.get("unit") == "1" else str(here.get("unit", ""))
        self.siblings = tuple(around.get("properties", ()))
        self.meaning = str(here.get("description") or around.get("description", ""))

    @property
    def given(self) -> str:
        """What was found, short, with its unit where it is a number."""
        found = self.detail["input"]
        plain = isinstance(found, int | float) and not isinstance(found, bool)
        return with_unit(found, self.unit) if plain else shown(found)

    @property
    def write(self) -> str:
        """An order to write the key, with what it means."""
        meaning = f": {self.meaning}" if self.meaning else ""
        unit = f", in {self.unit}" if self.unit else ""
        return f"Write {self.key}{meaning}{unit}"

    def bound(self, name: str) -> str:
        """Return a limit the value broke, with its unit."""
        return with_unit(self.detail["ctx"][name], self.unit)


def _missing(about: Told) -> Sentence:
    if isinstance(about.path[-1], int):
        return f"{about.key} holds too few numbers", "It must hold as many as its meaning says", about.write
    name = f"the section [{about.key}]" if len(about.path) == 1 else about.key
    return f"{name} is missing", "It must be given", about.write


def _unknown(about: Told) -> Sentence:
    nearest = near_miss(about.key, about.siblings)
    remedy = f"Did you mean {nearest}?".rstrip("?") if nearest else "Take it out"
    if not nearest and about.siblings:
        remedy = f"Take it out; known here: {', '.join(about.siblings)}"
    return f"{_short(about.key)} is not a key of this section", "Only known keys may stand here", remedy


def _not(kind: str) -> Callable[[Told], Sentence]:
    def sentence(about: Told) -> Sentence:
        return f"{about.key} is {about.given}", f"It must be {kind}", about.write

    return sentence


def _limit(words: str, name: str) -> Callable[[Told], Sentence]:
    def sentence(about: Told) -> Sentence:
        return f"{about.key} is {about.given}", f"It must be {words} {about.bound(name)}", about.write

    return sentence


def _choice(about: Told) -> Sentence:
    expected = str(about.detail["ctx"]["expected"])
    nearest = near_miss(str(about.detail["input"]), re.findall(r"'([^']*)'", expected))
    remedy = f'Did you mean "{nearest}"' if nearest else about.write
    return f"{about.key} is {about.given}", f"It must be one of {expected.replace(chr(39), chr(34))}", remedy


def _kind(about: Told) -> Sentence:
    given = about.detail["input"]
    kind = given.get("kind") if isinstance(given, Mapping) else given
    found = "kind is missing" if kind is None else f"kind is {shown(kind)}"
    nearest = near_miss(str(kind), REACH_KINDS)
    remedy = f'Did you mean "{nearest}"' if nearest else 'Write kind = "run", "step" or "pool"'
    return found, 'A reach is a "run", a "step" or a "pool"', remedy


def _few(about: Told) -> Sentence:
    least = about.detail["ctx"]["min_length"]
    found = about.detail["ctx"]["actual_length"] or "nothing"
    return f"{about.key} holds {found}", f"It must hold at least {least}", about.write


def _many(about: Told) -> Sentence:
    most = about.detail["ctx"]["max_length"]
    return f"{about.key} holds more than {most}", f"It may hold at most {most}", "Take some out"


def _number(about: Told) -> Sentence:
    huge = isinstance(about.detail["input"], int) and not isinstance(about.detail["input"], bool)
    return f"{about.key} is {about.given}", f"It must be a number{' of sane size' if huge else ''}", about.write


def _control(about: Told) -> Sentence:
    rule = "A text is one line without control characters"
    return f"{about.key} holds a character that cannot be printed", rule, "Type the text again by hand"


def _other(about: Told) -> Sentence:
    return f"{about.key} is {about.given}", "It cannot be read", about.write


WHOLE, TEXT = _not("a whole number"), _not("a text in quotes")
DATE = _not("a date such as 2026-09-01, without quotes")
SENTENCES: dict[str, Callable[[Told], Sentence]] = {
    "missing": _missing,
    "extra_forbidden": _unknown,
    "float_type": _number,
    "finite_number": _not("a finite number"),
    "int_type": WHOLE,
    "int_from_float": WHOLE,
    "int_parsing_size": _not("a whole number of sane size"),
    "string_type": TEXT,
    "bool_type": _not("true or false, without quotes"),
    "date_type": DATE,
    "date_from_datetime_inexact": DATE,
    "date_from_datetime_parsing": DATE,
    "date_parsing": DATE,
    "list_type": _not("a list in square brackets"),
    "tuple_type": _not("a list in square brackets"),
    "dict_type": _not("a section of its own"),
    "model_type": _not("a section of its own"),
    "model_attributes_type": _not("a section of its own"),
    "greater_than": _limit("more than", "gt"),
    "greater_than_equal": _limit("at least", "ge"),
    "less_than": _limit("less than", "lt"),
    "less_than_equal": _limit("at most", "le"),
    "literal_error": _choice,
    "union_tag_invalid": _kind,
    "union_tag_not_found": _kind,
    "too_short": _few,
    "too_long": _many,
    "string_too_short": _not("a text that is not empty"),
    "string_too_long": _not("a shorter text"),
    "string_pattern_mismatch": _control,
}


def _without_tags(loc: tuple[str | int, ...]) -> Path:
    """Return the path a person sees: the validator puts a reach's kind, and a mark at a faulty name, into its own."""
    kept = [
        part
        for place, part in enumerate(loc)
        if part != "[key]" and not (part in REACH_KINDS and place >= 2 and loc[place - 2] == "reaches")
    ]
    return tuple(kept)


def _node(schema: Mapping[str, Any], loc: tuple[str | int, ...]) -> Mapping[str, Any]:
    """Return what the schema says of a place, or nothing where it says nothing."""
    node: Mapping[str, Any] = schema
    for part in loc:
        node = _inside(schema, node, part)
    return _followed(schema, node)


def _inside(schema: Mapping[str, Any], node: Mapping[str, Any], part: str | int) -> Mapping[str, Any]:
    node = _followed(schema, node)
    if isinstance(part, int):
        return dict(node.get("items", {}))
    if part in node.get("properties", {}):
        return dict(node["properties"][part])
    if "discriminator" in node and part in node["discriminator"]["mapping"]:
        return {"$ref": node["discriminator"]["mapping"][part]}
    named_freely = [*node.get("patternProperties", {}).values(), node.get("additionalProperties") or {}]
    return dict(named_freely[0])


def _followed(schema: Mapping[str, Any], node: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return the node a reference or a choice with nothing points at, keeping its own description."""
    own = {key: kept for key, kept in node.items() if key in ("description", "unit")}
    if "anyOf" in node:
        return {**_followed(schema, next(one for one in node["anyOf"] if one.get("type") != "null")), **own}
    if "$ref" in node:
        return {**schema["$defs"][node["$ref"].rsplit("/", 1)[-1]], **own}
    return node


def _short(text: str) -> str:
    plain = "".join(mark if mark.isprintable() else "·" for mark in text)
    return plain if len(plain) <= LONGEST else plain[: LONGEST - 1] + "…"
