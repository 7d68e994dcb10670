"""The two-peg test in words."""

from typing import Annotated

import typer

from beckwright.base.errors import JobError
from beckwright.cli.survey.given import REFUSED, refuse
from beckwright.cli.tell import wrapped


def two_peg(
    midway_a: Annotated[float, typer.Argument(min=-10, max=10, help="Staff on A from midway, m.")],
    midway_b: Annotated[float, typer.Argument(min=-10, max=10, help="Staff on B from midway, m.")],
    near_a: Annotated[float, typer.Argument(min=-10, max=10, help="Staff on A from close by A, m.")],
    near_b: Annotated[float, typer.Argument(min=-10, max=10, help="Staff on B from close by A, m.")],
    *,
    apart: Annotated[float, typer.Option("--apart-m", min=1, max=200, help="Between the pegs, m.")],
    beyond: Annotated[
        float, typer.Option("--beyond-m", min=-50, max=50, help="From A to the level: behind A, or negative towards B.")
    ] = 0.0,
) -> None:
    """Test whether a level is level: both pegs from midway, and again from close by the first.

    Ends with 0, with 1 if the level wants setting right, with 2 if the places of the level tell nothing.
    """
    from beckwright.survey import two_peg as test
    from beckwright.tables.levelling import SIGHT_TILT

    try:
        found = test((midway_a, midway_b), (near_a, near_b), apart=apart, first_length=beyond)
    except JobError as error:
        refuse(error)
    way = "climbs" if found.tilt > 0 else "dips"
    typer.echo(wrapped(f"B lies {abs(found.rise):.3f} m {'over' if found.rise >= 0 else 'under'} A."))
    told = f"The line of sight {way} {abs(found.tilt) * 1e4:.2f} mm in 10 m; {SIGHT_TILT.amount * 1e4:g} mm are common."
    typer.echo(wrapped(told))
    typer.echo(wrapped(f"Level, it would read {found.readings[0]:.3f} on A and {found.readings[1]:.3f} on B."))
    if not found.sound:
        typer.echo(wrapped("Have it set right, or keep back and fore sights equally long."))
        raise typer.Exit(REFUSED)
