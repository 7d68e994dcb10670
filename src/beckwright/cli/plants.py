"""The plant table as a person chooses from it, at a terminal."""

from collections.abc import Iterator
from typing import get_args

from beckwright.base.words import opening
from beckwright.cli.tell import table, wrapped
from beckwright.job.model.planting import Place
from beckwright.stages.planting.fit import laws_here
from beckwright.stages.planting.names import look_up
from beckwright.tables.plants import LAWS, LISTED, PLANTS, Plant

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
          "December")  # fmt: skip
PLACES: tuple[Place, ...] = get_args(Place)
_HEADS = ("plant", "English", "zone", "light", "mm", "flowers", "apart", "marks")
_MARKS = (
    "marks: n native to Britain, p feeds pollinators, e evergreen, h harms people, a harms animals, "
    "s spreads fast, r roots that harm a lining, L on a list of invasive plants"
)
_KNOWN = (
    "Written down from memory where nothing else is said: to choose by, not to be quoted. Heights and distances in mm."
)


def month_of(told: str) -> int | None:
    """A month by its number or by the first letters of its name; None where it is no month."""
    if told.isdigit():
        return int(told) if 1 <= int(told) <= 12 else None
    found = [number for number, name in enumerate(MONTHS, 1) if name.lower().startswith(told.lower())]
    return found[0] if len(found) == 1 and len(told) > 2 else None


def chosen(
    *,
    zone: str | None,
    light: str | None,
    height_to: int | None,
    month: int | None,
    for_pollinators: bool,
    no_toxic: bool,
    native: bool,
    place: Place | None,
) -> tuple[Plant, ...]:
    """Plants that are all of what was asked; those a law of the place names are left out."""
    return tuple(
        row
        for row in PLANTS
        if (zone is None or zone in row.zones)
        and (light is None or light in row.light)
        and (height_to is None or row.height * 1000 <= height_to + 1e-9)
        and (month is None or month in row.months)
        and (row.pollinators or not for_pollinators)
        and not (no_toxic and (row.people or row.pets))
        and (row.native or not native)
        and not (place is not None and laws_here(look_up(row.name).listed, place))
    )


def in_words(plants: tuple[Plant, ...], place: Place | None) -> str:
    """A table of plants, what its marks mean, and the plants the law of a place forbids."""
    if not plants:
        return "No plant in the table is all of that. Leave one of the wishes out."
    rows = [
        (
            row.name,
            row.english,
            "/".join(row.zones),
            "/".join(_LIGHT[light] for light in row.light),
            f"{row.height * 1000:.0f}",
            _flowers(row),
            f"{row.spacing * 1000:.0f}",
            _marks(row, place),
        )
        for row in plants
    ]
    count = f"{len(plants)} of {len(PLANTS)} plants."
    return "\n".join(
        [table(rows, heads=_HEADS), "", count, wrapped(_MARKS, rest="  "), wrapped(_KNOWN), *_forbidden(place)]
    )


_FORBIDDEN = {"sale": "not to be sold", "keeping": "not to be sold, kept or grown", "the wild": "not to be let out"}
_LIGHT = {"sun": "sun", "part shade": "part", "shade": "shade"}


def _flowers(row: Plant) -> str:
    if not row.months:
        return ""
    first, last = (MONTHS[month - 1][:3] for month in (row.months[0], row.months[-1]))
    return first if first == last else f"{first}-{last}"


def _marks(row: Plant, place: Place | None) -> str:
    listed = look_up(row.name).listed
    told = (
        ("n", row.native),
        ("p", row.pollinators),
        ("e", row.evergreen == "yes"),
        ("h", bool(row.people)),
        ("a", bool(row.pets)),
        ("s", row.spreads == "high"),
        ("r", row.roots in ("stabbing", "seeking")),
        ("L", listed is not None and (place is None or bool(laws_here(listed, place)))),
    )
    return "".join(mark for mark, holds in told if holds)


def _forbidden(place: Place | None) -> Iterator[str]:
    if place is None:
        return
    yield ""
    yield f"On lists in {place}:"
    for law in LAWS.values():
        names = [row.name for row in LISTED if law in row.laws]
        if place in law.places and names:
            told = f"{opening(law.law)}, {law.date}, {_FORBIDDEN[law.forbids]}: {', '.join(names)}. ({law.seen})"
            yield wrapped(told, first="  - ", rest="    ")
    yield "Lists change: ask the authority what stands on them today."
