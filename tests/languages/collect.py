"""Every text a reader meets, as the program writes it in English: on sheets before lines are broken, and on pages."""

from collections.abc import Container, Iterator
from contextlib import contextmanager
from typing import Any

from beckwright.languages import Said
from beckwright.papers import drawing, fonts
from beckwright.papers.parts import PARTS, Matter

ON_PAGE = """() => {
  const told = [];
  const walk = (node) => {
    if (node instanceof Text) { if (node.data.trim()) told.push(node.data.trim()); return; }
    if (!(node instanceof Element) || node.matches("script, style, textarea, [translate=no]")) return;
    for (const name of ["aria-label", "title", "placeholder"])
      if (node.getAttribute(name)) told.push(node.getAttribute(name));
    node.childNodes.forEach(walk);
  };
  walk(document.body);
  return [...new Set(told)];
}"""


@contextmanager
def overheard() -> Iterator[set[str]]:
    """Collect every text that is broken into lines or drawn on a sheet while this lasts, but for the lines."""
    heard: set[str] = set()
    lines: set[str] = set()
    whole: set[str] = set()
    say, wrap = drawing.say, fonts.wrap

    def listen(words: str) -> str:
        # What is cut to its room has been said before.
        if not isinstance(words, Said):
            heard.add(words)
        return words

    def broken(words: str, *given: Any, **more: Any) -> tuple[str, ...]:
        whole.add(words)
        made = wrap(words, *given, **more)
        lines.update(made)
        return made

    drawing.say, fonts.wrap = listen, broken  # type: ignore[attr-defined]
    try:
        yield heard
    finally:
        drawing.say, fonts.wrap = say, wrap  # type: ignore[attr-defined]
        heard -= lines - whole
        heard |= whole


def on_sheets(job: Matter, parts: Container[str]) -> dict[str, set[str]]:
    """Every text of the sheets of a job, by the part of the set, of the parts that are named."""
    told: dict[str, set[str]] = {}
    for part in (each for each in PARTS if each.name in parts):
        with overheard() as heard:
            sheets = part.draw(job, 1, 99) if part.count(job) else ()
        told[part.name] = heard | {words for sheet in sheets for words in (sheet.title, sheet.description)}
    return told


def on_page(page: Any) -> set[str]:
    """Every text of a page as it stands."""
    return {words.replace("\u202f", "\u2009") for words in page.evaluate(ON_PAGE)}
