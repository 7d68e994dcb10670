"""The programme at a terminal."""

from typing import TYPE_CHECKING

import typer

from beckwright.base.words import opening, share
from beckwright.cli.tell import table, wrapped

if TYPE_CHECKING:
    from beckwright.stages.programme import Programme

_HEADS = ("task", "days", "from", "to", "may wait", "in the way")
NOT_SAID = "Nobody said when the work begins. Write start under [programme] in job.toml, such as start = 2026-09-28."


def in_words(programme: "Programme") -> str:
    """Every task in the order they begin, the chain that makes the end in bold; then how sure the end is."""
    rows = [
        (
            opening(dated.task.name),
            f"{dated.duration:.1f}",
            f"{dated.starts:%a %d %b}",
            f"{dated.ends:%a %d %b}",
            f"{dated.total_float:.1f}" if dated.total_float >= 0.05 else "",
            share(dated.criticality),
        )
        for dated in programme.tasks
    ]
    head, *lines = table(rows, heads=_HEADS).split("\n")
    told = [typer.style(line, bold=dated.critical) for line, dated in zip(lines, programme.tasks, strict=True)]
    ends = (
        f"As it mostly goes it ends on {programme.finish:%A %d %B %Y}. Half of the tries end by {programme.p50:%d %B}, "
        f"eight in ten by {programme.p80:%d %B}, nine in ten by {programme.p90:%d %B}."
    )
    return "\n".join([head, *told, "", wrapped(ends)])
