"""The pages a person goes to, by the moment they are for: every page offers the way to all others."""

from collections.abc import Iterable
from itertools import groupby
from typing import NamedTuple

DESK, SLOPE, TABLE, PAPERS = "At the desk", "On the slope", "At the kitchen table", "On paper"
MOMENTS = (DESK, SLOPE, TABLE, PAPERS)
"""When and where a page is used, in the order they are offered."""


class Place(NamedTuple):
    """A page.

    address  where it stands
    name     what it is called, in two words at most
    says     what is done there, in a few words
    moment   one of ``MOMENTS``
    """

    address: str
    name: str
    says: str
    moment: str = DESK


PLACES = (
    Place("/", "Desk", "line, levels and answers"),
    Place("/visit", "First visit", "five answers, honest ranges", TABLE),
    Place("/begin", "Begin", "ten points typed, two pegs, a new job", TABLE),
    Place("/relief", "In space", "ground, cut and water, to be turned"),
    Place("/film", "Start and stop", "the loop second by second"),
    Place("/why", "Why", "any figure followed by hand"),
    Place("/doubts", "Doubts", "what nobody has measured"),
    Place("/revisions", "Revisions", "every text the job has had"),
    Place("/beside", "Side by side", "two of them on one tape"),
    Place("/papers", "Papers", "every sheet, to look at, print or send", PAPERS),
    Place("/bring", "Bring a survey", "a file, a field book, or points typed"),
    Place("/slope", "Pegs", "how far to dig, peg by peg", SLOPE),
    Place("/slope/levels", "Level book", "booked and reduced on the slope", SLOPE),
    Place("/slope/shots", "Shots", "as built against the design", SLOPE),
    Place("/slope/lips", "Lip check", "left against right, and the shim", SLOPE),
    Place("/slope/switch-on", "Switch-on", "bucket and stopwatch against the design", SLOPE),
    Place("/slope/leak", "Leak or not", "levels over time, and what is lost", SLOPE),
    Place("/slope/photographs", "Photographs", "tied to the tape", SLOPE),
    Place("/care", "Care", "what is normal, and what to do when it is not", TABLE),
    Place("/care/record", "Yearly record", "what changes over the years, and when it matters", TABLE),
    Place("/care/settling", "Settling", "edges over the years, and until when they hold", TABLE),
    Place("/care/second", "Second feature", "a rill or a bubbling stone on the same water", TABLE),
    Place("/slope/diary", "Diary", "added to, never rewritten", SLOPE),
)


def moments(places: Iterable[Place]) -> list[tuple[str, list[Place]]]:
    """Pages by their moment, each in the order given. A moment without a page is left out."""
    in_order = sorted(places, key=lambda place: MOMENTS.index(place.moment))
    return [(moment, list(held)) for moment, held in groupby(in_order, key=lambda place: place.moment)]
