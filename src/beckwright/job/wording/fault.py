"""What a cross check yields: the key, what was found there, the rule it breaks, the remedy."""

from collections.abc import Iterable

from beckwright.job.wording.keylines import Path
from beckwright.job.wording.sentences import near_miss, shown

Fault = tuple[Path, str, str, str]

MOST_NAMES = 20
"""Names a message lists."""


def choose(key: str, wanted: str, known: Iterable[str], where: str) -> tuple[str, str, str]:
    """Return what to say of a choice that does not exist. ``where`` names what there is to choose from."""
    names = list(known)
    nearest = near_miss(wanted, names)
    remedy = f'Did you mean "{nearest}"' if nearest else "Write one of these, or add it there"
    listed = ", ".join(names[:MOST_NAMES]) or "none"
    return f"{key} is {shown(wanted)}", f"{where[0].upper()}{where[1:]} are {listed}", remedy
