"""The film: the start and the stop of the whole loop, second by second."""

from beckwright.film.findings import film_findings, size_for
from beckwright.film.joined import all_findings, findings_of_films
from beckwright.film.nodes import Loop
from beckwright.film.pump import FLAT_OUT
from beckwright.film.section import Section, film_section
from beckwright.film.stories import film, film_band, film_set, filming_band, filming_set, lost_in_a_dry_spell
from beckwright.film.tell import COLUMNS, film_dict, film_rows
from beckwright.film.values import NEVER, STORIES, Film, LipTime, RunWave, Story, in_bands
from beckwright.film.works import Rule, Sizes, Works, reservoir_that_works, rules_of_thumb

__all__ = [
    "COLUMNS",
    "FLAT_OUT",
    "NEVER",
    "STORIES",
    "Film",
    "LipTime",
    "Loop",
    "Rule",
    "RunWave",
    "Section",
    "Sizes",
    "Story",
    "Works",
    "all_findings",
    "film",
    "film_band",
    "film_dict",
    "film_findings",
    "film_rows",
    "film_section",
    "film_set",
    "filming_band",
    "filming_set",
    "findings_of_films",
    "in_bands",
    "lost_in_a_dry_spell",
    "reservoir_that_works",
    "rules_of_thumb",
    "size_for",
]
