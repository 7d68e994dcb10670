"""Who reads the papers. The only place that says so; ``parts.py`` names with each part of the set whose it is."""

from collections.abc import Iterable
from difflib import get_close_matches

from beckwright.base.errors import JobError, Problem
from beckwright.base.values import value


@value
class Reader:
    """Hands the papers go into.

    key   short, as it is typed and as their PDF is called
    name  what the reader is called
    says  what they take from it, in a few words
    """

    key: str
    name: str
    says: str


CLIENT = Reader(key="client", name="client", says="what it will be, what it costs to build and to run")
DRIVER = Reader(key="driver", name="digger driver", says="what is dug, how deep, where the soil goes, where not to dig")
CREW = Reader(key="crew", name="crew", says="where it stands, what is laid, at which level, and when")
SUPPLIER = Reader(key="supplier", name="supplier", says="what is ordered of each, with sizes and duty points")
ELECTRICIAN = Reader(key="electrician", name="electrician", says="loads, the cable's route, and what is left to decide")
TREE_OFFICER = Reader(key="tree-officer", name="tree officer", says="root circles, and what is done inside them")
OWNER = Reader(key="owner", name="owner", says="what is usual at start and stop, what grows, what it uses in a year")
NEXT_CONTRACTOR = Reader(key="next-contractor", name="next contractor", says="what lies in the ground, and where")
CHECKER = Reader(key="checker", name="checker", says="every figure with its equation, inputs and source")
WHOLE = Reader(key="whole", name="whole set", says="every sheet in the order it is bound, with an index")

READERS = (
    *(CLIENT, DRIVER, CREW, SUPPLIER, ELECTRICIAN, TREE_OFFICER, OWNER, NEXT_CONTRACTOR, CHECKER),
    WHOLE,
)
"""All of them, in the order a job meets them; the whole set last."""

_BY_KEY = {reader.key: reader for reader in READERS}


def readers_named(names: Iterable[str]) -> tuple[Reader, ...]:
    """Give the readers of these keys, each once, in the order given. Raises ``JobError`` naming every key nobody has.

    Capitals and spaces do not matter: ``Tree officer`` is ``tree-officer``.
    """
    keys = {name: "-".join(name.lower().replace("_", " ").replace("-", " ").split()) for name in names}
    unknown = [name for name, key in keys.items() if key not in _BY_KEY]
    if unknown:
        raise JobError([_unknown(name, keys[name]) for name in unknown])
    return tuple(_BY_KEY[key] for key in dict.fromkeys(keys.values()))


def named(readers: Iterable[Reader]) -> str:
    """Tell readers in one line."""
    return ", ".join(reader.name for reader in readers)


def _unknown(name: str, key: str) -> Problem:
    near = get_close_matches(key, _BY_KEY, n=1, cutoff=0.5)
    near = near or [known for known, reader in _BY_KEY.items() if key and key in f"{known} {reader.name}"][:1]
    return Problem(
        place="reader",
        found=f"“{name}” reads none of the papers",
        rule=f"The readers are {', '.join(_BY_KEY)}",
        remedy=f"Ask for {near[0]}" if near else "Ask for one of them",
    )
