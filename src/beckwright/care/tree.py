"""From a symptom to what is to be done: questions and leaves as data, filled with this job's own numbers."""

import re
from typing import Literal

from beckwright.base.values import value
from beckwright.care.normal import Normal
from beckwright.care.told import numbers
from beckwright.care.tree_rows import LEAVES, QUESTIONS, SYMPTOMS
from beckwright.care.tree_terms import terms
from beckwright.job.model import Job

Who = Literal["you", "builder", "electrician", "water company"]
_NAMED = re.compile(r"\{(\w+)\}")


@value
class Question:
    """A question of yes and no, and the keys of what comes next."""

    key: str
    asks: str
    yes: str
    no: str


@value
class Leaf:
    """The end of a way.

    does   what to do now, as orders; its first sentence can stand alone
    who    does it or is rung
    stops  whether the pump is to be left off until somebody has looked
    """

    key: str
    does: str
    who: Who
    stops: bool


@value
class Symptom:
    """What somebody sees, and the key of the first question or leaf."""

    name: str
    first: str


@value
class FaultTree:
    """All symptoms, and every question and leaf they lead to. ``numbers`` are what is told in them, by name."""

    month: int
    symptoms: tuple[Symptom, ...]
    questions: tuple[Question, ...]
    leaves: tuple[Leaf, ...]
    numbers: dict[str, str]

    def at(self, key: str) -> Question | Leaf:
        """The question or leaf of a key."""
        rows: tuple[Question | Leaf, ...] = (*self.questions, *self.leaves)
        return next(each for each in rows if each.key == key)

    def below(self, first: str) -> tuple[str, ...]:
        """Keys of everything a way from there can come to, each once, in the order it is met."""
        met: list[str] = []
        waits = [first]
        while waits:
            key = waits.pop(0)
            if key in met:
                continue
            met.append(key)
            at = self.at(key)
            if isinstance(at, Question):
                waits += [at.yes, at.no]
        return tuple(met)


def fault_tree(job: Job, normal: Normal, month: int) -> FaultTree:
    """Fill the tree of a month, January 0. Rows whose numbers this job does not have are left out."""
    said = numbers(normal, month) | terms(job, normal)
    questions = {row.key: row for row in QUESTIONS}
    leaves = {row.key: row for row in LEAVES}
    found_q: dict[str, Question] = {}
    found_l: dict[str, Leaf] = {}

    def take(key: str) -> str:
        """The key to go to: a row that lacks a number hands on to the one that stands in for it."""
        row = questions.get(key) or leaves[key]
        if not _complete(row.says, said):
            # Every row that may lack a number names the one that stands in for it.
            return take(row.other)
        if key in found_q or key in found_l:
            return key
        if key in leaves:
            end = leaves[key]
            found_l[key] = Leaf(key=key, does=_filled(end.says, said), who=end.who, stops=end.stops)
            return key
        asked = questions[key]
        yes, no = take(asked.yes), take(asked.no)
        if yes == no:
            # What makes no difference is not asked.
            return yes
        found_q[key] = Question(key=key, asks=_filled(asked.says, said), yes=yes, no=no)
        return key

    symptoms = tuple(
        Symptom(name=name, first=take(first))
        for name, first in SYMPTOMS
        if name != "lights" or (job.electrics is not None and job.electrics.lights)
    )
    named = {name for row in (*QUESTIONS, *LEAVES) for name in _NAMED.findall(row.says)}
    return FaultTree(
        month=month,
        symptoms=symptoms,
        questions=tuple(found_q.values()),
        leaves=tuple(found_l.values()),
        numbers={name: told for name, told in said.items() if name in named},
    )


def _complete(says: str, said: dict[str, str]) -> bool:
    return all(name in said for name in _NAMED.findall(says))


def _filled(says: str, said: dict[str, str]) -> str:
    return _NAMED.sub(lambda match: said[match[1]], says)
