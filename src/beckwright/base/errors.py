"""The job cannot be designed: every problem at once, each one sentence a tired person can act on."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing wrong with a job.

    place   file and line, or file and key, such as ``survey.csv line 14`` or ``job.toml flows.full``
    found   the value as the person wrote it, with its unit, or what is missing
    rule    what the value must be
    remedy  what to type or do instead
    """

    place: str
    found: str
    rule: str
    remedy: str

    def __str__(self) -> str:
        return f"{self.place}: {self.found}. {self.rule}. {self.remedy}."


class JobError(Exception):
    """The job cannot be designed. ``problems`` holds all of them, in the order of the files."""

    def __init__(self, problems: "tuple[Problem, ...] | list[Problem]") -> None:
        self.problems = tuple(problems)
        count = len(self.problems)
        heading = f"{count} problem{'' if count == 1 else 's'} in the job"
        super().__init__("\n".join([heading, *map(str, self.problems)]))
