"""Languages other than English: one file of phrases each, and how a text is said by it.

English is written where it is meant, all over the house; a reader's language is chosen once, at the edge, and what is
told meanwhile is said by its phrasebook. Machine formats never pass through here.
"""

from beckwright.languages.chosen import say, spoken, tell_in, told_in
from beckwright.languages.phrasebook import LANGUAGES, UNITS, Phrasebook, Said, phrasebook, rooms

__all__ = ["LANGUAGES", "UNITS", "Phrasebook", "Said", "phrasebook", "rooms", "say", "spoken", "tell_in", "told_in"]
