"""What a reduced level book has to say: what does not close, what nothing checks, what was shot twice and differs."""

from collections.abc import Iterator
from itertools import groupby

from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import Length
from beckwright.base.words import US, grouped, number_in, opening, reads, with_unit
from beckwright.survey.blunders import FINEST, Slip, Suspect
from beckwright.survey.levelled import point_levels
from beckwright.survey.reduction import Line, ReducedBook
from beckwright.tables.levelling import SIGHT_TILT
from beckwright.tables.sources import SOURCES

MOST_NAMED = 4
"""Blunders named for one line, and readings named for one blunder."""
PRACTICE = "common practice"

SLIPS_IN_WORDS: dict[Slip, str] = {
    "metre": "a reading misread by 1 m",
    "decimetre": "a reading misread by 0.1 m",
    "centimetre": "a reading misread by 0.01 m",
    "digits": "two digits of a reading booked in the wrong order",
    "sights": "a back and a fore sight booked for each other",
    "column": "a reading booked in the wrong place",
    "upside down": "the staff held on its head",
    "known level": "the level of the closing mark copied wrong",
    "uneven sights": "a level out of adjustment, with uneven sights",
}


def level_findings(reduced: ReducedBook) -> tuple[Finding, ...]:
    """The findings of a level book, line by line and then point by point."""
    return (*(finding for line in reduced.lines for finding in _of_line(reduced, line)), *_shot_twice(reduced))


def millimetres(length: Length) -> str:
    """A misclosure to a millimetre, below ten to a tenth; in feet to a thousandth, as a rod is read."""
    if reads() is US:
        return f"{with_unit(length, 'm'):.3f}"
    return f"{grouped(length * 1000, 1 if abs(length) < 0.00995 else 0)} mm"


def line_in_words(reduced: ReducedBook, line: Line) -> str:
    """``BM1 to BM2``, from point to point."""
    return f"{reduced.book.points[line.first]} to {reduced.book.points[line.last]}"


def _of_line(reduced: ReducedBook, line: Line) -> Iterator[Finding]:
    place = f"{reduced.book.file} {line_in_words(reduced, line)}"
    if line.standing == "open":
        yield Finding(
            severity=Severity.CAUTION,
            code="levels-unchecked",
            place=place,
            says="It ends on no known level: nothing checks these levels.",
            cure="Shoot the first point again as the last fore sight, from the same place of the level or a new one.",
            source=PRACTICE,
        )
    if line.standing == "refused" and line.misclosure is not None:
        yield Finding(
            severity=Severity.FAIL,
            code="levels-do-not-close",
            place=place,
            says=f"It misses by {millimetres(line.misclosure)}, and {millimetres(line.allowed)} are allowed. "
            f"{opening(_explained(line.suspects))}",
            cure="Look in the book and on the ground, mend the row, or level the line again; nothing was shared out.",
            source=SOURCES["levelling-slides"].reference,
        )


def _explained(found: tuple[Suspect, ...]) -> str:
    """The likeliest blunders in one sentence each, those of one kind that fit alike together."""
    if not found:
        return "no single slip explains it: either two readings are wrong, or the level or a change point moved."
    alike = [list(group) for _, group in groupby(found, key=lambda one: (one.slip, round(abs(one.left), FINEST)))]
    return " ".join(
        f"{'Or it' if place else 'it'} would close to {millimetres(group[0].left)} by {_group(group)}."
        for place, group in enumerate(alike[:MOST_NAMED])
    )


def _group(group: list[Suspect]) -> str:
    slip = SLIPS_IN_WORDS[group[0].slip]
    if not group[0].mends:
        tilt = group[0].tilt
        way = "climbs" if tilt > 0 else "dips"
        return f"{slip}: a sight that {way} {abs(tilt) * 1e4:.1f} mm in 10 m, {SIGHT_TILT.amount * 1e4:g} are common"
    more = f", or another of {len(group)}" if len(group) > MOST_NAMED else ""
    return f"{slip}: {', or '.join(_mended(one) for one in group[:MOST_NAMED])}{more}"


def _mended(one: Suspect) -> str:
    return " with ".join(
        f"line {mend.line} {mend.what} on {mend.point} "
        f"{number_in(mend.mended, 'm'):.3f} for {number_in(mend.booked, 'm'):.3f}"
        for mend in one.mends
    )


def _shot_twice(reduced: ReducedBook) -> Iterator[Finding]:
    """Points that were shot again, or were known, and differ by more than a one-set-up line may miss."""
    allowed = max(line.allowed / line.setups**0.5 for line in reduced.lines)
    for one in point_levels(reduced):
        if one.spread > allowed and not reduced.refused:
            yield Finding(
                severity=Severity.CAUTION,
                code="levels-differ",
                place=f"{reduced.book.file} {one.point}",
                says=f"Its levels lie {millimetres(one.spread)} apart, and {millimetres(allowed)} are allowed.",
                cure="See whether it is one and the same place and shoot it again; the mean or what was known is kept.",
                source=PRACTICE,
            )
