"""German of what the browser's scripts put together themselves: every room, every text and template."""

import pytest

from beckwright.languages import phrasebook

from . import scripts
from .test_german_rooms import ENGLISH


@pytest.mark.parametrize("folder", sorted(each.name for each in scripts.STATIC.iterdir() if each.is_dir()))
def test_what_the_scripts_say_is_german(folder: str) -> None:
    """Every text and template of a room's scripts, its holes filled with whatever fits; ``scripts`` says which are."""
    said = tuple(scripts.of(folder))
    assert said
    assert {(name, text.forms[0]): left for name, text in said if (left := _lacking(text))} == {}


def _lacking(text: scripts.Text) -> list[str]:
    """Forms no phrase holds, or that keep an English word, whatever their holes hold."""
    book = phrasebook("de")

    def left(words: str) -> bool:
        words = words.replace("\u202f", "\u2009")
        return bool(book.missing(words) or ENGLISH.search(book.say(words)))

    return [form.replace(scripts.HOLE, "{}") for form in text.forms if all(map(left, scripts.fills(form)))]


SPOKEN = """
const kept = `beckwright held ${location.host}`;
make("p", "press words", `Row ${row.place ? `${row.place}` : "struck out"} ${counted(count, "row")} left`);
make("span", on ? "number second" : "", "now");
byId("told").textContent = away ? "Out of reach" : `${metres(depth)} ${unit("m")} deep`;
field.setAttribute("aria-label", "depth"); field.setAttribute("scope", "col row");
if (kind === "Level row" || /^Not (this|that)/.test(kind)) return; // "Nor this one."
const edit = { do: "move point", class: "label strong", found: "it is empty", place: 'Say "this" once' };
draw("path", { d: `M${x} 10H${y}`, "aria-label": "outline" }, "steps"); document.querySelector(".places summary");
"""


def test_texts_of_a_script_are_told_from_its_names() -> None:
    """One of each kind, in the order they stand: what people read, and nothing else."""
    assert [text.forms for text in scripts.texts(SPOKEN)] == [
        ("Row \0 \0 row left", "Row \0 \0 rows left", "Row struck out \0 row left", "Row struck out \0 rows left"),
        ("now",),
        ("Out of reach",),
        ("\0 m deep", "\0 ft deep"),
        ("depth",),
        ("it is empty",),
        ('Say "this" once',),
        ("outline",),
        ("steps",),
    ]
