"""What the keeper hands out: values that stay as they are, whatever is written after them."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any, Literal

from beckwright.base.quantities import Length
from beckwright.base.values import value

Origin = Literal["first", "saved", "outside", "aside"]
"""How a text came in: found when the job was first opened, saved here, written in an editor, or kept beside the line
because somebody else had changed the job meanwhile."""


Tables = tuple[tuple[str, str], ...]
"""Name and SHA-256 of each table that lies beside a text, in hex, in the order of their names."""


@value
class Revision:
    """One text job.toml has had, with the tables it stood with.

    number  counts up from 1, never used twice
    parent  number of the text it was made from; undo leads there. None for the first
    onward  number redo leads to, or None
    kept    when it was written down
    why     what was changed, in words
    name    given by a person, or empty
    """

    number: int
    parent: int | None
    onward: int | None
    kept: datetime
    why: str
    name: str
    origin: Origin


@value
class Version:
    """A revision with its text, line ends as they were written, and its tables."""

    revision: Revision
    text: str
    tables: Tables


@value
class Saved:
    """The job as it stands after a write.

    again  the mark had been taken before, and nothing was written this time
    """

    revision: Revision
    text: str
    again: bool


@value
class Conflict:
    """Both sides changed the job since ``base``, and both are kept.

    ours    the text that was to be saved: a revision beside the line
    theirs  the text that stands, saved by somebody else or written in an editor
    base    the text ours was made from
    """

    ours: Version
    theirs: Version
    base: Version


@value
class Reading:
    """Something read on site.

    kind     such as ``peg`` or ``bucket``
    seen     when it was read; ``kept`` when it was written down
    content  as it was sent; a copy of its own for whoever asked
    """

    number: int
    kind: str
    seen: datetime
    kept: datetime
    content: Mapping[str, Any]


@value
class Photograph:
    """A photograph without its bytes.

    digest    SHA-256 of the bytes, in hex: what it is asked for by
    form      media type, such as ``image/jpeg``
    size      bytes
    chainage  where on the course it was taken, or None
    """

    number: int
    digest: str
    form: str
    size: int
    chainage: Length | None
    seen: datetime
    kept: datetime
    note: str


@value
class Entry:
    """One entry of the diary."""

    number: int
    seen: datetime
    kept: datetime
    text: str
