"""The commands. Each opens a job, asks the engine, and prints; the engine is imported inside, when it is needed."""

from beckwright.cli.commands import begin, look, running, work
from beckwright.cli.commands.about import app
from beckwright.cli.commands.shared import UNREADABLE
from beckwright.cli.readings import readings
from beckwright.cli.survey import survey

__all__ = ["UNREADABLE", "app", "begin", "look", "running", "work"]

app.add_typer(survey)
app.add_typer(readings)
