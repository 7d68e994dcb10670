"""The report of a leak test as plain text: to keep, to print, to send. Its readings stand in it unaltered."""

from collections.abc import Iterator

from beckwright.compose import Design
from beckwright.languages import say
from beckwright.readings.leak.book import LeakBook
from beckwright.readings.leak.read import Doubt
from beckwright.readings.leak.report import report
from beckwright.readings.leak.tell import LeakTest
from beckwright.readings.leak.typed import Entry

RULE = "-" * 72


def asked(doubt: Doubt) -> str:
    """A doubt as the command line tells it."""
    line = f" line {doubt.line}" if doubt.line else ""
    return f"Asked: {doubt.test}{line}: {doubt.found}. {doubt.asks}"


def plain_sheet(design: Design, found: LeakTest, book: LeakBook) -> str:
    """Every paragraph of the report, what is asked, what was not counted and why, and the table between two rules.

    In the language told just now; the table stays to the byte.

    The digest (SHA-256) is that of the bytes between the rules.
    """
    title = design.job.title
    head = [f"Leak or not: {title.name}", f"Revision: {title.revision}. Design of {title.date}."]
    if title.invented:
        head.append("Invented for demonstration.")
    out = [f"Not counted: {_row(each)}. {' '.join(each.asked)}" for each in book.left_out]
    struck = [f"Struck out: {_row(each)}." for each in book.entries if each.row.struck]
    paragraphs = [*report(design, found), *map(asked, found.doubts), *out, *struck]
    reads = f"Readings, unaltered. SHA-256 of the bytes between the two rules: {found.digest}"
    told = ["\n".join(map(say, head)), *map(say, paragraphs), say(reads)]
    return "\n\n".join(told) + f"\n\n{RULE}\n{book.text}{RULE}\n"


def _row(each: Entry) -> str:
    return ", ".join(_said(each))


def _said(each: Entry) -> Iterator[str]:
    """What stood in a row, as it was typed."""
    if each.row.content.get("line") is not None:
        yield f"line {each.row.content['line']}: {each.test}, {each.hours:g} h, {each.level * 1000:g} mm"
        return
    yield each.row.text("at") or f"{each.test}, {each.row.text('hours')} h"
    yield f"level {each.row.text('level')} mm from the {each.row.text('from')}"
    yield each.condition or each.row.text("pump")
    if each.note:
        yield each.note
