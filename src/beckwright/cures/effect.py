"""What edits change: answers before and after, findings gone and findings new. Shown before anything is taken."""

from collections import Counter

from beckwright.base.figures import Figure, dotted
from beckwright.base.findings import Finding
from beckwright.base.values import value
from beckwright.base.words import band
from beckwright.cures.look import Look
from beckwright.cures.propose import findings_of
from beckwright.figures.answers import Answer, answers_of, later_answers_of
from beckwright.figures.water import water_figures

_WORST = {
    "freeboard": "Least freeboard at {flow}",
    "lip.head": "Least water over a lip at {flow}",
    "water.shown": "Least share in view at {flow}",
    "water.depth": "Greatest depth in view at {flow}",
}
"""Answers that are the worst of many: where the worst lies may be elsewhere afterwards, and it is one question."""


@value
class Changed:
    """One answer that reads otherwise afterwards; empty where it cannot be told. ``flow`` is empty where it is of all.

    name   of the figure afterwards, or of that before where there is none
    """

    name: str
    label: str
    flow: str
    before: str
    after: str


@value
class Effect:
    """What edits change.

    answers  those whose words differ
    gone     findings that are told no more
    new      findings that were not told before
    altered  findings told otherwise: before and after
    whole    whether works and films were looked at, or the levels alone
    """

    answers: tuple[Changed, ...]
    gone: tuple[Finding, ...]
    new: tuple[Finding, ...]
    altered: tuple[tuple[Finding, Finding], ...]
    whole: bool


def effect(before: Look, after: Look, *, whole: bool = True) -> Effect:
    """Hold two designs against each other.

    whole  with works and films, which take seconds; without, the levels and what hangs on them alone
    """
    gone, new, altered = _paired(_findings(before, whole=whole), _findings(after, whole=whole))
    return Effect(
        answers=_changed(_answers(before, whole=whole), _answers(after, whole=whole)),
        gone=gone,
        new=new,
        altered=altered,
        whole=whole,
    )


def _findings(look: Look, *, whole: bool) -> tuple[Finding, ...]:
    return findings_of(look) if whole else look.findings("levels")


def _answers(look: Look, *, whole: bool) -> list[Answer]:
    later = later_answers_of(look.works) if whole else []
    return [*answers_of(look.design), *_lips(look), *later]


def _lips(look: Look) -> list[Answer]:
    """At each flow the lip with the least water over it."""
    thinnest = []
    for name in look.design.water.names:
        heads = [each for each in water_figures(look.design) if _head_at(each, name)]
        least = min(heads, key=lambda figure: figure.low)
        thinnest.append(Answer(figure=least, words=band(least.low, least.high, 1, "mm", scale=1000), flow=name))
    return thinnest


def _head_at(figure: Figure, flow: str) -> bool:
    return figure.name.startswith("lip.") and figure.name.endswith(f".{dotted(flow)}.head")


def _changed(before: list[Answer], after: list[Answer]) -> tuple[Changed, ...]:
    were, are = ({_asked(each): each for each in side} for side in (before, after))
    keys = [*are, *(key for key in were if key not in are)]
    return tuple(_pair(were.get(key), are.get(key)) for key in keys if _words(were.get(key)) != _words(are.get(key)))


def _asked(answer: Answer) -> tuple[str, str]:
    """What an answer answers, and at which flow."""
    return _question(answer), answer.flow


def _question(answer: Answer) -> str:
    first, *_, last = answer.figure.name.split(".")
    worst = next((name for name in (first, f"{first}.{last}") if name in _WORST), "")
    return worst if worst and answer.flow else answer.figure.name


def _pair(before: Answer | None, after: Answer | None) -> Changed:
    told = next(each for each in (after, before) if each is not None)
    label = _WORST.get(_question(told), told.figure.label)
    return Changed(
        name=told.figure.name,
        label=label.format(flow=told.flow),
        flow=told.flow,
        before=_words(before),
        after=_words(after),
    )


def _words(answer: Answer | None) -> str:
    return "" if answer is None else answer.words


def _paired(
    before: tuple[Finding, ...], after: tuple[Finding, ...]
) -> tuple[tuple[Finding, ...], tuple[Finding, ...], tuple[tuple[Finding, Finding], ...]]:
    """Findings gone, new, and told otherwise: those of one place are one, then those of one kind in their order."""
    altered = []
    left, right = list(before), list(after)
    for same in (_wholly, _placed, _kind):
        waiting = Counter(map(same, right))
        for finding in list(left):
            if waiting[same(finding)] > 0:
                waiting[same(finding)] -= 1
                other = next(each for each in right if same(each) == same(finding))
                left.remove(finding)
                right.remove(other)
                if same is not _wholly:
                    altered.append((finding, other))
    return tuple(left), tuple(right), tuple(altered)


def _wholly(finding: Finding) -> tuple[str, ...]:
    return finding.code, finding.place, finding.says, finding.cure, finding.severity.name


def _placed(finding: Finding) -> tuple[str, ...]:
    return finding.code, finding.place


def _kind(finding: Finding) -> tuple[str, ...]:
    return (finding.code,)
