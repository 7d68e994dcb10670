"""The job an edit is made in: its text and what stands in it, read only as far as the edit needs."""

from typing import Any

from pydantic import TypeAdapter

from beckwright.base.errors import JobError
from beckwright.base.values import value
from beckwright.job.edit.refuse import sound
from beckwright.job.wording.keylines import toml_held
from beckwright.job.wording.syntax import depth_problem, syntax_problem
from beckwright.job.written.course import CourseWritten, SourceWritten
from beckwright.job.written.works import HoseWritten, ReservoirWritten

COURSE, SOURCE = TypeAdapter(CourseWritten), TypeAdapter(SourceWritten)
RESERVOIR, HOSE = TypeAdapter(ReservoirWritten), TypeAdapter(HoseWritten)


@value
class Standing:
    """The text of job.toml, and ``given`` as parsed."""

    text: str
    given: dict[str, Any]

    @property
    def course(self) -> CourseWritten:
        """The course. Raises ``JobError`` where it cannot be read."""
        return sound(COURSE, self.given.get("course"), ("course",), self.text)

    @property
    def source(self) -> SourceWritten:
        """The source. Raises ``JobError`` where it cannot be read."""
        return sound(SOURCE, self.given.get("source"), ("source",), self.text)

    @property
    def reservoir(self) -> ReservoirWritten:
        """The reservoir. Raises ``JobError`` where it cannot be read."""
        return sound(RESERVOIR, self.given.get("reservoir"), ("reservoir",), self.text)

    @property
    def hose(self) -> HoseWritten:
        """The hose. Raises ``JobError`` where it cannot be read."""
        return sound(HOSE, self.given.get("hose"), ("hose",), self.text)


def standing(text: str) -> Standing:
    """Parse the text. Raises ``JobError`` where it is no TOML."""
    return Standing(text=text, given=parsed(text))


def parsed(text: str) -> dict[str, Any]:
    """What a text of job.toml holds, to be read only. Raises ``JobError`` where it is no TOML."""
    try:
        return toml_held(text)
    except ValueError as error:
        raise JobError([syntax_problem(error, text, "job.toml")]) from error
    except RecursionError as error:
        raise JobError([depth_problem("job.toml")]) from error
