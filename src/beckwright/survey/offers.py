"""What a survey says of trees, walls and services, as lines to paste into job.toml."""

import json
from collections.abc import Iterator, Sequence
from itertools import pairwise

from beckwright.base.quantities import Points
from beckwright.survey.codes import BOUNDARIES, SERVICES, Feature, species_and_stem

MOST = 200
"""Sections offered; a survey with more is a forest."""

Named = tuple[str, Feature, Points]


def offered(features: Sequence[Feature], plan: Points, lines: Sequence[tuple[Feature, Points]]) -> str:
    """Sections for job.toml from coded points (n, 2) and lines of the plan, in metres; empty where there are none."""
    sections = [*_trees(features, plan), *_along(features, plan, lines)]
    more = [f"# {len(sections) - MOST} more are left out."] if len(sections) > MOST else []
    return "\n\n".join(sections[:MOST] + more)


def _trees(features: Sequence[Feature], plan: Points) -> Iterator[str]:
    trees = [(feature, place) for feature, place in zip(features, plan, strict=True) if feature.code == "TREE"]
    for number, (feature, (x, y)) in enumerate(trees, 1):
        species, stem = species_and_stem(feature.detail)
        size = (
            f"stem_mm = {stem * 1000:.0f}"
            if stem
            else f"# stem_mm = ?    # {'which unit: ' + feature.detail if feature.detail else 'not said'}: "
            "measure at 1.5 m above the ground"
        )
        named = [f"species = {_text(species)}"] if species else []
        yield "\n".join(["[[trees]]", f'name = "T{number}"', *named, f"x_m = {x:.3f}", f"y_m = {y:.3f}", size])


def _along(features: Sequence[Feature], plan: Points, lines: Sequence[tuple[Feature, Points]]) -> Iterator[str]:
    """Walls, boundaries and services: the points of one code in the order they were shot, and lines as drawn."""
    rows: dict[str, list[int]] = {}
    for row, feature in enumerate(features):
        if feature.code in SERVICES or feature.code in BOUNDARIES:
            rows.setdefault(f"{feature.code}{feature.string}", []).append(row)
    every: list[tuple[Feature, Points]] = [(features[several[0]], plan[several]) for several in rows.values()]
    counts: dict[str, int] = {}
    for feature, points in [*every, *lines]:
        kind = SERVICES.get(feature.code) or BOUNDARIES.get(feature.code) or "service"
        counts[kind] = counts.get(kind, 0) + 1
        yield _section(feature, kind, f"{kind} {counts[kind]}", points)


def _section(feature: Feature, kind: str, name: str, points: Points) -> str:
    line = "[" + ", ".join(f"[{x:.3f}, {y:.3f}]" for x, y in _without_repeats(points)) + "]"
    if len(_without_repeats(points)) < 2:
        return f"# {name}: one point, at {line[1:-1]}. Its line wants two."
    if feature.code in BOUNDARIES:
        return "\n".join(["[[boundaries]]", f"name = {_text(name)}", f"line_m = {line}"])
    known = "" if feature.code != "SERVICE" else "    # which one?"
    depth = "# depth_mm = ?    # leave out when nobody knows"
    return "\n".join(
        ["[[services]]", f"name = {_text(name)}", f"kind = {_text(kind)}{known}", f"line_m = {line}", depth]
    )


def _without_repeats(points: Points) -> list[tuple[float, float]]:
    places = [(round(float(x), 3), round(float(y), 3)) for x, y in points]
    return [places[0], *(here for before, here in pairwise(places) if here != before)]


def _text(words: str) -> str:
    """A text as TOML has it: its basic strings are those of JSON."""
    return json.dumps(words, ensure_ascii=False)
