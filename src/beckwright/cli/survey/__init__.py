"""The words for what comes in from the ground: levels, tapes, and the survey they make together."""

import typer

from beckwright.cli.survey.imports import import_file
from beckwright.cli.survey.join import join
from beckwright.cli.survey.levels import levels
from beckwright.cli.survey.peg import two_peg
from beckwright.cli.survey.tapes import tapes

survey = typer.Typer(
    name="survey",
    no_args_is_help=True,
    rich_markup_mode=None,
    help="Turn a field book into the survey of a job.",
    context_settings={"help_option_names": ["--help", "-h"]},
)
survey.command("import")(import_file)
survey.command("levels")(levels)
survey.command("two-peg")(two_peg)
survey.command("tapes")(tapes)
survey.command("join")(join)
