"""German of what the browser's scripts put together themselves: every room, every text and template."""

import re
from collections.abc import Iterator
from itertools import product

import pytest

from beckwright.languages import phrasebook

from . import scripts
from .test_german_rooms import ENGLISH

HELD = ("7", "x")
"""A number and a word that may be a sentence of its own: neither is in a phrase, and both stay in any language."""


@pytest.mark.parametrize("folder", sorted(each.name for each in scripts.STATIC.iterdir() if each.is_dir()))
def test_what_the_scripts_say_is_german(folder: str) -> None:
    """Every text and template of a room's scripts, its holes filled with whatever fits; ``scripts`` finds them."""
    said = tuple(scripts.of(folder))
    assert said
    assert {(name, forms[0]): left for name, forms in said if (left := _lacking(forms))} == {}


def _lacking(forms: tuple[str, ...]) -> list[str]:
    """Forms no phrase holds, or that keep an English word, whatever their holes hold."""
    book = phrasebook("de")

    def left(words: str) -> bool:
        words = words.replace("\u202f", "\u2009")
        return bool(book.missing(words) or ENGLISH.search(book.say(words)))

    return [form.replace(scripts.HOLE, "{}") for form in forms if all(map(left, _fills(form)))]


def _fills(form: str) -> Iterator[str]:
    """A form with each of its holes filled; one that is only the end of a sentence gets something to stand after."""
    form = f"x{form}" if re.match(r"(?: \(|[,:;] )", form) else form
    texts = form.split(scripts.HOLE)
    may = [(*HELD, "x.") if re.match(r" (?:[A-Z\d]|$)|$", after) else HELD for after in texts[1:]]
    for held in product(*may):
        yield texts[0] + "".join(word + text for word, text in zip(held, texts[1:], strict=True))


SPOKEN = """
const kept = `beckwright held ${location.host}`;
make("p", "press words", `Row ${row.place ? `${row.place}` : "struck out"} ${counted(count, "row")} left`);
make("span", /** @type {string} */ (on ? "number second" : ""), "now");
byId("told").textContent = away ? "Out of reach" : `${metres(depth)} ${unit("m")} deep`;
field.setAttribute("aria-label", "depth"); field.setAttribute("scope", "col row");
if (kind === "Level row" || /^Not (this|that)/.test(kind)) return; // "Nor this one."
const edit = { do: "move point", class: "label strong", found: "it is empty", place: 'Say "this" once' };
draw("path", { d: `M${x} 10H${y}`, "aria-label": "outline" }, "steps"); document.querySelector(".places summary");
this.#said ??= kind?.id === "hose point" ? `${name}: show its points` : /** @type {string} */ (row.says ?? "Not read");
press.textContent += off ? "undone" : ""; head.append(...["sum", "mean"].map((words) => make("th", "sum low", words)));
"""


def test_texts_of_a_script_are_told_from_its_names() -> None:
    """One of each kind, in the order they stand: what people read, and nothing else."""
    assert scripts.texts(SPOKEN) == [
        ("Row \0 \0 row left", "Row \0 \0 rows left", "Row struck out \0 row left", "Row struck out \0 rows left"),
        ("now",),
        ("Out of reach",),
        ("\0 m deep", "\0 ft deep"),
        ("depth",),
        ("it is empty",),
        ('Say "this" once',),
        ("outline",),
        ("steps",),
        ("\0: show its points",),
        ("Not read",),
        ("undone",),
        ("sum",),
        ("mean",),
    ]
