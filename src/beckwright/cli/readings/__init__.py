"""The words for what was read on site, once the water runs."""

import typer

from beckwright.cli.readings.leak import leak
from beckwright.cli.readings.switch_on import switch_on

readings = typer.Typer(
    name="readings",
    no_args_is_help=True,
    rich_markup_mode=None,
    help="Make something of what was read on site.",
    context_settings={"help_option_names": ["--help", "-h"]},
)
readings.command("leak")(leak)
readings.command("switch-on")(switch_on)
