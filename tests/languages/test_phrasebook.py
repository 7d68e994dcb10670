"""How a phrasebook says things: the phrases here are the test's own."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.languages import LANGUAGES, Phrasebook, phrasebook, say, spoken, told_in

BOOK = Phrasebook(
    "Deutsch",
    {
        "{#} to {#} {}": "{} bis {} {}",
        "lip {}": "Überlauf {}",
        "{} lies {#} mm low": "{} liegt {} mm zu tief",
        "of {} the {} remain": "von {2} bleiben {1}",
        "raise it": "Heben",
        "level": "Höhe",
        "the water": "das Wasser",
        "the water runs": "das Wasser läuft",
    },
    ",",
)


@pytest.mark.parametrize(
    ("english", "german"),
    [
        ("raise it", "Heben"),
        ("Raise it", "Heben"),
        ("lip 2 lies 5 mm low", "Überlauf 2 liegt 5 mm zu tief"),
        ("Lip 2 lies 5 mm low. Raise it.", "Überlauf 2 liegt 5 mm zu tief. Heben."),
        ("8\u2009600 to 9\u2009400 L/h", "8\u2009600 bis 9\u2009400 L/h"),
        ("1.25", "1,25"),
        ("\u22120.50", "\u22120,50"),
        ("(6.83, -5) m", "(6,83; -5) m"),
        ("1, 2, 3", "1, 2, 3"),
        ("of seven the stones remain", "von stones bleiben seven"),
        ("the water runs", "das Wasser läuft"),
        ("level, 1.25", "Höhe, 1,25"),
        ("2026-11-29", "2026-11-29"),
        ("1.2.3", "1.2.3"),
    ],
)
def test_phrases_are_said(english: str, german: str) -> None:
    assert BOOK.say(english) == german


def test_what_is_in_no_phrase_stays_and_is_named() -> None:
    told = "Raise it. Nobody knows this one."
    assert BOOK.say(told) == "Heben. Nobody knows this one."
    assert BOOK.missing(told) == ("Nobody knows this one.",)
    assert BOOK.missing("lip 2 lies 5 mm low") == ()


@given(st.text(max_size=60))
def test_any_text_is_said_and_nothing_unknown_is_lost(words: str) -> None:
    said = BOOK.say(words)
    if BOOK.missing(words) == (words.strip(),):
        assert said == words


def test_a_language_holds_as_long_as_it_is_chosen() -> None:
    assert (say("Undo"), spoken()) == ("Undo", "en")
    with told_in("de"):
        assert (say("Undo"), spoken()) == (phrasebook("de").phrases["Undo"], "de")
        with told_in("en"):
            assert say("Undo") == "Undo"
    assert say("Undo") == "Undo"
    with pytest.raises(KeyError), told_in("xx"):
        pass


@pytest.mark.parametrize("language", [each for each in LANGUAGES if each != "en"])
def test_every_phrase_fills_each_of_its_holes(language: str) -> None:
    for english, own in phrasebook(language).phrases.items():
        assert english.count("{") == own.count("{"), english
