"""The language a browser is spoken to in: kept in a cookie, said in the page as it is made and by it as it goes on."""

import re
from functools import lru_cache
from html import escape, unescape
from typing import Any

from fastapi import APIRouter
from fastapi.responses import JSONResponse
from pydantic import BaseModel, ConfigDict
from starlette.datastructures import Headers
from starlette.requests import cookie_parser
from starlette.types import ASGIApp, Receive, Scope, Send

from beckwright.job.wording.keylines import toml_held
from beckwright.languages import LANGUAGES, UNITS, phrasebook, told_in
from beckwright.web.problems import missing
from beckwright.web.stood import NO_JOB, stood

COOKIE = "beckwright_language"
A_YEAR = 365 * 86400
_BETWEEN_TAGS = re.compile(r">([^<>]*[A-Za-z][^<>]*)<")
_LEFT_ALONE = re.compile(r'<(\w+)[^<>]* translate="no"[^<>]*>.*?</\1>', re.DOTALL)
"""Names: those of a job and its folder may read like a word of ours."""
_IN_TAGS = re.compile(r' (aria-label|title|placeholder|alt)="([^"]*)"')


class Chosen(BaseModel):
    """The code of a language, such as ``de``."""

    model_config = ConfigDict(extra="forbid")
    language: str


def language_routes() -> APIRouter:
    """Routes of what is said in which language."""
    router = APIRouter(prefix="/api")

    @router.post("/language")
    def choose(body: Chosen) -> JSONResponse:
        if body.language not in LANGUAGES:
            return missing("language", body.language, LANGUAGES)
        answer = JSONResponse({"language": body.language})
        answer.set_cookie(COOKIE, body.language, max_age=A_YEAR, samesite="lax")
        return answer

    @router.get("/phrases/{language}")
    def phrases(language: str) -> JSONResponse:
        if language not in LANGUAGES or language == "en":
            return missing("language", language, LANGUAGES)
        book = phrasebook(language)
        return JSONResponse({"decimal": book.decimal, "units": UNITS, "phrases": book.phrases})

    return router


class SpokenIn:
    """Answers every request in the language of who asks; of the job, for who chose none."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, its language chosen."""
        if scope["type"] != "http" or scope["path"].startswith(NO_JOB):
            await self.app(scope, receive, send)
            return
        chosen = cookie_parser(Headers(scope=scope).get("cookie", "")).get(COOKIE)
        with told_in(chosen if chosen is not None and chosen in LANGUAGES else language_of_job()):
            await self.app(scope, receive, send)


def language_of_job() -> str:
    """What the job says, as the request found it; English for one that cannot be opened: that is told elsewhere."""
    found = stood()
    return "en" if found is None else _of_text(found.text)


@lru_cache(maxsize=4)
def _of_text(text: str) -> str:
    try:
        held: Any = toml_held(text)
    except (ValueError, RecursionError):
        return "en"
    job = held.get("job")
    said = job.get("language") if isinstance(job, dict) else None
    return str(said) if said in LANGUAGES else "en"


def said(page: str, language: str) -> str:
    """A page of our own with its words said in a language. What a job says is only said where a phrase holds it."""
    if language == "en":
        return page
    book, left = phrasebook(language), list[str]()

    def leave(found: re.Match[str]) -> str:
        left.append(found[0])
        return f"<{len(left) - 1}>"

    def say(words: str) -> str:
        return escape(book.say(unescape(" ".join(words.split()))))

    def between(found: re.Match[str]) -> str:
        words = found[1]
        lead, tail = words[: len(words) - len(words.lstrip())], words[len(words.rstrip()) :]
        return f">{lead}{say(words.strip())}{tail}<"

    page = _BETWEEN_TAGS.sub(between, _LEFT_ALONE.sub(leave, page))
    page = _IN_TAGS.sub(lambda found: f' {found[1]}="{say(found[2])}"', page)
    return re.sub(r"<(\d+)>", lambda found: left[int(found[1])], page)
