"""The diary as one plain page for the client: words and photographs in one file that asks for nothing else."""

from base64 import b64encode
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

from jinja2 import Environment, FileSystemLoader

from beckwright.base.values import value
from beckwright.site import Entry, Keeper, Photograph

MOST_BYTES = 15_000_000
"""Bytes of photographs in one page: what usual mail still carries, grown by a third on its way."""
SHOWN = ("image/jpeg", "image/png", "image/webp", "image/avif")
"""Forms every usual browser draws."""


@value
class Picture:
    """A photograph on the page; ``source`` is empty where it is only named."""

    photograph: Photograph
    source: str


@value
class Day:
    """One day of the diary, by the clock of this machine."""

    day: date
    entries: tuple[Entry, ...]
    pictures: tuple[Picture, ...]


def client_page(title: str, keeper: Keeper) -> str:
    """Give the whole page. Photographs are put in as they were sent, oldest first, until the page is as large as mail.

    Those that no longer fit, or that browsers do not draw, are named with their place.
    """
    photographs = sorted(keeper.photographs(), key=lambda each: each.seen)
    pictures = _pictures(photographs, keeper)
    days = _days(keeper.diary(), pictures)
    left = sum(not picture.source for picture in pictures)
    template = Environment(loader=FileSystemLoader(Path(__file__).parents[1] / "templates"), autoescape=True)
    template.filters["clock"] = clock
    return template.get_template("client_diary.html").render(title=title, days=days, left=left)


def clock(moment: datetime) -> str:
    """A time of day, by the clock of this machine."""
    return f"{moment.astimezone():%H:%M}"


def _pictures(photographs: Sequence[Photograph], keeper: Keeper) -> list[Picture]:
    room, pictures, seen = MOST_BYTES, list[Picture](), set[str]()
    for photograph in photographs:
        if photograph.digest in seen:
            continue
        seen.add(photograph.digest)
        fits = photograph.form in SHOWN and photograph.size <= room
        room -= photograph.size if fits else 0
        pictures.append(Picture(photograph=photograph, source=_source(photograph, keeper) if fits else ""))
    return pictures


def _source(photograph: Photograph, keeper: Keeper) -> str:
    return f"data:{photograph.form};base64,{b64encode(keeper.photograph(photograph.digest)).decode()}"


def _days(entries: Sequence[Entry], pictures: Sequence[Picture]) -> tuple[Day, ...]:
    dates = {_day(each.seen) for each in entries} | {_day(each.photograph.seen) for each in pictures}
    return tuple(
        Day(
            day=day,
            entries=tuple(sorted((one for one in entries if _day(one.seen) == day), key=lambda one: one.seen)),
            pictures=tuple(one for one in pictures if _day(one.photograph.seen) == day),
        )
        for day in sorted(dates)
    )


def _day(moment: datetime) -> date:
    return moment.astimezone().date()
