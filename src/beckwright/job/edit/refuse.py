"""An edit that cannot be made, and parts of a job that must be sound before an edit can build on them."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NoReturn, TypeVar

from pydantic import TypeAdapter, ValidationError

from beckwright.base.errors import JobError, Problem
from beckwright.job.wording.keylines import Path, key_lines
from beckwright.job.wording.sentences import dotted, near_miss, place_of, problems_from, shown
from beckwright.job.written import meanings

T = TypeVar("T")


def refuse(place: str, found: str, rule: str, remedy: str) -> NoReturn:
    """Raise the one problem an edit has."""
    raise JobError([Problem(place=place, found=found, rule=rule, remedy=remedy)])


def refuse_at(path: Path, found: str, rule: str, remedy: str) -> NoReturn:
    """Raise the one problem an edit has at a key of job.toml."""
    refuse(f"job.toml {dotted(path)}", found, rule, remedy)


def refuse_details(details: Sequence[Mapping[str, Any]], text: str) -> NoReturn:
    """Raise what the validator found in ``text``, in the words of the reader; places are of the whole file."""
    raise JobError(problems_from(details, lines=key_lines(text), schema=meanings()))


def sound(kind: TypeAdapter[T], given: object, path: Path, text: str) -> T:
    """Return a part of the job as written, or raise what is wrong with it."""
    try:
        return kind.validate_python(given)
    except ValidationError as error:
        details = [{**detail, "loc": (*path, *detail["loc"])} for detail in error.errors(include_url=False)]
        refuse_details(details, text)


def whole(held: object, place: str) -> None:
    """Raise where something sent holds a null inside: TOML has no word for it."""
    inside = held.values() if isinstance(held, Mapping) else held if isinstance(held, list) else ()
    for one in inside:
        if one is None:
            refuse(place, "null stands inside the value", "A list or row holds values only", "Leave it out")
        whole(one, place)


def number_in(number: int, held: Sequence[object], path: Path, word: str) -> int:
    """Return the number of something listed, counted from 0, or raise when there is none of that number."""
    if number < len(held):
        return number
    rule = f"There are {len(held)}, counted from 0"
    return refuse(place_of(path, {}), f"there is no {word} {number}", rule, "Ask for the state again")


def name_in(name: str, known: Iterable[str], path: Path, word: str) -> None:
    """Raise when a name is none of those known."""
    names = list(known)
    if name not in names:
        nearest = near_miss(name, names)
        remedy = f'Did you mean "{nearest}"' if nearest else "Take one of these"
        refuse(place_of(path, {}), f"there is no {word} {shown(name)}", f"Known are {', '.join(names)}", remedy)
