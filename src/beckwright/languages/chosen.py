"""The language things are told in just now: English, unless somebody at the edge has chosen another."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from beckwright.languages.phrasebook import Phrasebook, Said, phrasebook

_CHOSEN: ContextVar[tuple[str, Phrasebook] | None] = ContextVar("language", default=None)


@contextmanager
def told_in(language: str) -> Iterator[None]:
    """Tell everything in a language while this lasts. Raises KeyError for one there is no file for."""
    held = _CHOSEN.set(None if language == "en" else (language, phrasebook(language)))
    try:
        yield
    finally:
        _CHOSEN.reset(held)


def tell_in(language: str) -> None:
    """Tell everything from here on in a language, until whoever stands around this with ``told_in`` ends it."""
    _CHOSEN.set(None if language == "en" else (language, phrasebook(language)))


def say(words: str) -> str:
    """The words in the language chosen, once: what was said already stays. In English they come back as they are."""
    chosen = _CHOSEN.get()
    return words if chosen is None or isinstance(words, Said) else Said(chosen[1].say(words))


def spoken() -> str:
    """The code of the language chosen."""
    chosen = _CHOSEN.get()
    return "en" if chosen is None else chosen[0]
