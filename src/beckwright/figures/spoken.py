"""Where numbers came from, in the language chosen: names of figures, keys and publications stay as they are."""

import re

from beckwright.languages import Said, say
from beckwright.tables.sources import SOURCES

_JOB = "job: "
_KEY = re.compile(r"[\w.]+")


def came(comes: str) -> str:
    """Say what a number came from: a figure's name, a key of the job, a row of a table, or words."""
    key = comes.removeprefix(_JOB)
    said = say(comes)
    if key == comes or (said != comes and not _KEY.fullmatch(key)):
        return said
    return Said(f"{say('job')}: {key}")


def credited(source: str) -> str:
    """Say a figure's source: a publication as it calls itself, a definition and a sum of ours in words."""
    key, _, place = source.partition(", ")
    if key not in SOURCES:
        return came(source)
    return Said(f"{say(key)}, {say(place)}" if key == "definition" else source)
