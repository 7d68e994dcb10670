"""Write a survey understood as survey.csv: whole or not at all, and only if it reads back."""

import csv
import io
import tempfile
from pathlib import Path

from beckwright.base.errors import JobError, Problem
from beckwright.job.model import Survey
from beckwright.job.tables import read_survey
from beckwright.survey.new_file import write_new
from beckwright.survey.understood import Understood


def write_survey(understood: Understood, path: Path) -> None:
    """Write survey.csv. Nothing is written over, and nothing is left half written.

    Raises JobError while a question is open, where the file exists or cannot be made, or where no job could read it.
    """
    if understood.questions:
        raise JobError(
            [
                Problem(
                    place=understood.source,
                    found=question.says.rstrip(".?"),
                    rule="Nothing is written while that is open",
                    remedy=f"Give {' or '.join(option for option, _ in question.choices)}",
                )
                for question in understood.questions
            ]
        )
    text = as_csv(understood)
    refuse_unreadable(text, path.name)
    write_new(text, path)


def refuse_unreadable(text: str, name: str) -> Survey:
    """Give the survey a job would read from the text; JobError where none could: that is not worth a file."""
    with tempfile.TemporaryDirectory() as folder:
        draft = Path(folder) / name
        draft.write_text(text, encoding="utf-8", newline="\n")
        problems: list[Problem] = []
        survey = read_survey(draft, problems)
    if survey is None:
        raise JobError(problems)
    return survey


def as_csv(understood: Understood) -> str:
    """The text of survey.csv, to the millimetre."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    east, north = understood.shift
    text.write(f"# From {understood.source}.\n")
    if (east, north) != (0.0, 0.0):
        text.write(
            f"# Shift: {east:.3f} was taken off every easting and {north:.3f} off every northing of that file.\n"
        )
    lined = any(understood.breaklines)
    writer.writerow(["id", "x_m", "y_m", "z_m", "code", *(["breakline"] if lined else [])])
    for name, (x, y), z, code, line in zip(
        understood.names, understood.points, understood.levels, understood.codes, understood.breaklines, strict=True
    ):
        writer.writerow([name, f"{x:.3f}", f"{y:.3f}", f"{z:.3f}", code, *([line] if lined else [])])
    return text.getvalue()
