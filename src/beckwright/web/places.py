"""The pages a person goes to, in the order of the work: every page offers the way to all others."""

from typing import NamedTuple


class Place(NamedTuple):
    """A page.

    address  where it stands
    name     what it is called, in two words at most
    says     what is done there, in a few words
    """

    address: str
    name: str
    says: str


PLACES = (
    Place("/", "Desk", "line, levels and answers"),
    Place("/slope", "Pegs", "how far to dig, peg by peg"),
)
