"""A job that begins with what is there: the levels as shot in place of those drawn, for a repair to be designed on."""

from pathlib import Path

import numpy as np

from beckwright.job.edit import SetLevel, SetValue, edit
from beckwright.job.model import MeasuredEdges
from beckwright.readings.as_built import AsBuilt

LEFT_BEHIND = ("edges.csv", "as_built.csv", "quote.csv", "tasks.csv")
"""Tables of the job that speak of the building of it, or are written anew."""


def repair_files(folder: Path, found: AsBuilt, *, settled: bool = False) -> dict[str, str]:
    """The files of a job whose levels are those shot: job.toml with its comments kept, edges.csv, and the other tables.

    settled  the fill has done its sinking: none is reckoned with any more
    Raises JobError where a level cannot be written into job.toml.
    """
    job = found.built.job
    text = (folder / "job.toml").read_text(encoding="utf-8")
    crests = {lip.name: lip.crest for lip in found.built.water.lips}
    text = edit(text, SetLevel(lip="source", level_m=round(job.source.lip_level, 4)))
    for name, crest in crests.items():
        if name != "source":
            text = edit(text, SetLevel(lip=name, level_m=round(crest, 4)))
    text = edit(text, SetValue(key="job.revision", value="as built"))
    if settled:
        text = edit(text, SetValue(key="course.settlement_percent", value=0))
    tables = {
        path.name: path.read_text(encoding="utf-8-sig")
        for path in sorted(folder.glob("*.csv"))
        if path.name not in LEFT_BEHIND and not path.name.startswith("as_built")
    }
    edges = job.course.measured_edges
    if edges is not None:
        tables["edges.csv"] = _edges(edges)
    return {**tables, "job.toml": text}


def _edges(edges: MeasuredEdges) -> str:
    rows = np.column_stack([edges.chainages, edges.left, edges.right])
    lines = [f"{chainage:.2f},{left:.3f},{right:.3f}" for chainage, left, right in rows.tolist()]
    return "\n".join(["# Edges of the lining as shot.", "chainage_m,left_m,right_m", *lines]) + "\n"
