"""What sheets say of the same thing: facts read off their words, so that no two sheets can say it differently.

A fact is recognised by its wording, a pattern with the thing it speaks of (``of``) and what is said of it (``said``),
or by cells side by side in a table; lines of one paragraph are read as one. Only what these recognise is compared; how
much that is, is counted by the test.

What it does not see, for no mark carries the name of the figure it was written from: a figure told in other words than
these; figures of which one sheet tells the band and another its middle; levels of the running water, which each sheet
measures from elsewhere (lid, floor, pump's least); sums told rounded outward on the picture sheet and to the unit in
the estimate; and whatever stands on one sheet alone.
"""

import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from beckwright.papers.drawing import Sheet, Text, laid, plain

NUMBER = r"\d[\d\u2009]*(?:\.\d+)?"
LEVEL = r"-?\d+\.\d{2,3}"


class Fact(NamedTuple):
    """One saying: of what, what, and where."""

    kind: str
    of: str
    said: str
    sheet: str
    words: str


WORDED: tuple[tuple[str, str], ...] = (
    ("datum", rf"^Levels: (?P<of>.+) = (?P<said>{LEVEL}) m"),
    ("date", r"^(?P<said>\d{4}-\d\d-\d\d)(?P<of>)$"),
    ("lip level", rf"^(?P<of>lip \S+) (?P<said>{LEVEL}) m(?:,|$)"),
    ("lip drop", r"^(?P<of>lip \S+) [\d.]+ m,.*drop (?P<said>\d+)"),
    ("lip drop", r"^(?P<of>lip \S+?): down (?P<said>\d+)"),
    ("root circle", rf"\b(?P<of>[A-Z]\w*\d)(?:, protected)?, root circle (?P<said>{NUMBER}) m"),
    ("root circle", rf"\b(?P<of>[A-Z]\w*\d): keep out (?P<said>{NUMBER}) m round"),
    ("root circle", rf"root circle \((?P<of>[A-Z]\w*\d), (?P<said>{NUMBER}) m\)"),
    ("root circle", rf"^Root circle of .*\b(?P<of>[A-Z]\w*\d), radius: (?P<said>{NUMBER}) m"),
    ("service depth", rf"(?i)^(?P<of>water|gas|drain|electricity)(?: main)?, (?P<said>{NUMBER}) m down as told"),
    ("pit", rf"^reservoir (?P<of>)(?P<said>{NUMBER} x {NUMBER}) m$"),
    ("pit", rf"^(?P<of>)(?P<said>{NUMBER} m by {NUMBER}) m$"),
    ("pit", rf"block (?P<of>)(?P<said>{NUMBER} m x {NUMBER}) m x"),
    ("pit depth", rf"(?P<of>)(?P<said>{NUMBER}) m (?:deep at most|below the ground at most)"),
    ("pit floor", rf"^(?P<of>)(?P<said>{LEVEL}) floor as dug"),
    ("pit floor", rf"^dig level (?P<of>)(?P<said>{LEVEL})"),
    ("reservoir level", rf"^(?P<said>{LEVEL}) (?P<of>cover|overflow)\b"),
    ("lining piece", rf"^(?P<of>[A-Z])  ?(?P<said>{NUMBER}(?: m)? x {NUMBER}) m"),
    ("peg at", rf"^Peg (?P<of>\d+), (?P<said>{NUMBER}) m"),
    ("flat out", rf"(?P<of>)(?P<said>{NUMBER} to {NUMBER}) L/h flat out"),
    ("flat out", rf"(?P<of>)Flat out it gives (?P<said>{NUMBER} to {NUMBER}) L/h"),
    ("usable litres", rf"(?P<of>)reservoir (?P<said>{NUMBER}) L usable"),
    ("usable litres", rf"(?P<of>)more than the (?P<said>{NUMBER}) L the reservoir can lend"),
    ("litres at rest", rf"(?P<of>)Reservoir holds (?P<said>{NUMBER}) L at rest"),
    ("litres at rest", rf"^(?P<of>){NUMBER} x {NUMBER} m; (?P<said>{NUMBER}) L$"),
    ("hose length", rf"(?P<of>)(?P<said>{NUMBER}) m of hose(?:, bore|\. Nobody)"),
    ("bore", rf"(?P<of>)m of hose, bore (?P<said>{NUMBER}) mm"),
    (
        "a year",
        rf"(?i)(?P<of>)as you told us(?: you will run it:|, a year costs) [A-Z]+ (?P<said>{NUMBER} to {NUMBER})",
    ),
    ("reckoned", rf"(?P<of>)The designer reckons with [A-Z]+ (?P<said>{NUMBER})"),
    ("pump", rf"(?P<of>\w+): (?P<said>{NUMBER} L/h at {NUMBER} m of head, {NUMBER} W)"),
)


def facts_of(sheets: Sequence[Sheet], items: Sequence[str], flows: Sequence[str] = ()) -> list[Fact]:
    """Every fact on the sheets. ``items`` are names of what is bought, ``flows`` those of the job's flows."""
    patterns = (*WORDED, *_of_flows(flows))
    return [
        fact
        for sheet in sheets
        for fact in (
            *_worded(sheet, patterns),
            *_two_floors([*_tabled(sheet, items)]),
            *_of_rows(sheet, flows),
        )
    ]


def _of_flows(flows: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Flows by the names their designer gave them: before the amount, or after it."""
    if flows:
        named = rf"(?i:(?P<of>{'|'.join(map(re.escape, flows))}))"
        yield "flow", rf"\b{named}[,:]? (?P<said>{NUMBER}) L/h"
        yield "flow", rf"(?P<said>{NUMBER}) L/h at {named}\b"
        yield "watts", rf"\b{named}: {NUMBER} L/h at {NUMBER} m of head, (?P<said>{NUMBER}) W"


def _of_rows(sheet: Sheet, flows: Sequence[str]) -> Iterator[Fact]:
    """A row that begins with a flow's name has its amount next, and the pump's watts; sums stand after their name."""
    for cells in _rows(sheet):
        row, first, after = " | ".join(cells), cells[0].lower(), cells[1] if len(cells) > 1 else ""
        if first in [name.lower() for name in flows] and after.endswith(" L/h"):
            yield Fact("flow", first, _bare(after), sheet.name, row)
            for cell in cells[2:]:
                if re.fullmatch(rf"{NUMBER} W", cell):
                    yield Fact("watts", first, _bare(cell), sheet.name, row)
        if first == "this reservoir has":
            yield Fact("usable litres", "", _bare(after), sheet.name, row)
        if first.startswith("likely total, "):
            yield Fact("reckoned", "", _bare(after), sheet.name, row)


def _worded(sheet: Sheet, patterns: Sequence[tuple[str, str]]) -> Iterator[Fact]:
    met = set()
    for words in (*(text.words for text in _texts(sheet)), *_paragraphs(sheet)):
        for kind, pattern in patterns:
            for match in re.finditer(pattern, words):
                fact = Fact(kind, match["of"].lower(), _bare(match["said"]), sheet.name, words)
                if fact[:3] not in met:
                    met.add(fact[:3])
                    yield fact


def _paragraphs(sheet: Sheet) -> Iterator[str]:
    """Lines of the sheet that stand under each other in one hand, joined: a figure may be broken over two of them."""
    held: list[Text] = []
    for text in (part for mark in sheet.marks for part in plain(mark) if isinstance(part, Text)):
        last = held[-1] if held else None
        same = last is not None and (text.at[0], text.height, text.weight) == (last.at[0], last.height, last.weight)
        if last is not None and not (same and 0.0 < last.at[1] - text.at[1] < 2.2 * text.height):
            yield from [" ".join(each.words for each in held)] if len(held) > 1 else []
            held = []
        held.append(text)
    yield from [" ".join(each.words for each in held)] if len(held) > 1 else []


def _tabled(sheet: Sheet, items: Sequence[str]) -> Iterator[Fact]:
    for cells in _rows(sheet):
        row = " | ".join(cells)
        for place, (cell, *after) in enumerate(zip(cells, [*cells[1:], ""], [*cells[2:], "", ""], strict=False)):
            if cell in items and (match := re.match(rf"{NUMBER} ?[^\d(]*", after[0])):
                yield Fact("amount", cell, match[0].strip(), sheet.name, row)
            if re.fullmatch(r"lip \S+", cell) and after[0] == "middle":
                yield Fact("lip level", cell, after[1], sheet.name, row)
            if cell == "reservoir" and after[0] in ("cover", "overflow"):
                yield Fact("reservoir level", after[0], after[1], sheet.name, row)
            if place == 0 and re.fullmatch(r"\d+", cell) and (match := re.fullmatch(r"(\d+\.\d\d)(?: m)?", after[0])):
                yield from _peg(sheet, cell, match[1], cells, row)


def _peg(sheet: Sheet, peg: str, first: str, cells: list[str], row: str) -> Iterator[Fact]:
    """A peg's row: the table of setting out has its chainage and its digs, the dig sheet a row for each floor."""
    if "line" in cells:
        yield Fact("peg at", peg, first, sheet.name, row)
        digs = [cell.removesuffix(" dig") for cell in cells if cell.endswith(" dig")]
        yield Fact("peg dig", peg, digs[0], sheet.name, row)
        if len(digs) > 1:
            yield Fact("peg dig downstream", peg, digs[1], sheet.name, row)
    elif sheet.name.startswith("dig-") and len(cells) == 2:
        yield Fact("peg dig", peg, first, sheet.name, row)


def _two_floors(facts: Sequence[Fact]) -> Iterator[Fact]:
    """At a lip the dig sheet has two floors at one peg: the upper row is upstream."""
    met = set()
    for fact in facts:
        again = fact.kind == "peg dig" and fact.sheet.startswith("dig-") and (fact.of, fact.sheet) in met
        met.add((fact.of, fact.sheet) if fact.kind == "peg dig" else ("", ""))
        yield fact._replace(kind="peg dig downstream") if again else fact


def _rows(sheet: Sheet) -> Iterator[list[str]]:
    """Level words on one base line, from left to right; empty cells left out."""
    lines: dict[float, list[tuple[float, str]]] = defaultdict(list)
    for text in _texts(sheet):
        if abs(text.turn) < 1e-6 and text.words.strip():
            lines[round(text.at[1] + text.offset[1], 1)].append((text.at[0], text.words))
    for _, row in sorted(lines.items(), reverse=True):
        yield [words for _, words in sorted(row)]


def _texts(sheet: Sheet) -> Iterator[Text]:
    seen = (laid(mark, view.window) for view in sheet.views for mark in view.marks)
    for mark in (*seen, *sheet.marks):
        yield from (part for part in plain(mark) if isinstance(part, Text))


def _bare(said: str) -> str:
    """The numbers alone: ``2.40 m by 1.60`` and ``2.40 x 1.60`` say the same."""
    return " ".join(re.findall(NUMBER, said))


def differing(facts: Sequence[Fact]) -> list[tuple[Fact, Fact]]:
    """Sayings of one thing that differ: in their numbers, or, with as many decimals, in how these are rounded.

    A level may be told to the centimetre on a plan and to the millimetre where it is set: the coarser is then the finer
    one rounded.
    """
    told: dict[tuple[str, str], Fact] = {}
    wrong = []
    for fact in sorted(facts, key=lambda each: -_decimals(each.said)):
        finest = told.setdefault((fact.kind, fact.of), fact)
        if _rounded(finest.said, fact.said) != fact.said:
            wrong.append((finest, fact))
    return wrong


def _decimals(said: str) -> int:
    return max((len(each.partition(".")[2]) for each in re.findall(NUMBER, said)), default=0)


def _rounded(fine: str, coarse: str) -> str:
    """The finer saying with the decimals of the coarser, half up as on paper; itself where they have as many."""
    places = [len(each.partition(".")[2]) for each in re.findall(NUMBER, coarse)]
    numbers = re.findall(NUMBER, fine)
    if fine == coarse or len(places) != len(numbers):
        return fine
    told = iter(
        each if len(each.partition(".")[2]) == place else f"{float(each) + 1e-9:.{place}f}"
        for each, place in zip(numbers, places, strict=True)
    )
    return re.sub(NUMBER, lambda _: next(told), fine)
