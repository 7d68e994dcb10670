"""The program itself: its name, version and help."""

from typing import TYPE_CHECKING, Annotated

import typer

from beckwright.base.words import METRIC, told_in
from beckwright.languages import told_in as spoken_in

if TYPE_CHECKING:
    pass

app = typer.Typer(
    name="beckwright",
    invoke_without_command=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["--help", "-h"]},
)


def _version(*, wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        typer.echo(version("beckwright"))
        raise typer.Exit


@app.callback()
def about(
    context: typer.Context,
    *,
    version: Annotated[
        bool, typer.Option("--version", help="Print the version and stop.", callback=_version, is_eager=True)
    ] = False,
) -> None:
    """Design and build a recirculating garden stream with a covered reservoir.

    A job is a folder of plain files. Begin one with: beckwright new FOLDER
    """
    # What a command chooses to tell its numbers in ends with it.
    context.with_resource(told_in(METRIC))
    context.with_resource(spoken_in("en"))
    if context.invoked_subcommand is None:
        typer.echo(context.get_help())
