"""What was shot on the works, against the drawing, the worst first."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import typer

from beckwright.base.words import millimetres, number_in, share, with_unit
from beckwright.cli.tell import table, wrapped

if TYPE_CHECKING:
    from beckwright.readings import AsBuilt, LipBuilt, Off

_LEAST_TILT = 0.5e-3
"""A lip nearer to level than this, m, is level: no staff shows less."""


def in_words(found: "AsBuilt") -> str:
    """Edges, then lips, then beds and dig levels."""
    parts = [*_edges(found), *_lips(found), *_others(found)]
    return "\n".join(parts) if parts else "Nothing was shot."


def anything_fails(found: "AsBuilt") -> bool:
    """Whether any edge leaves less than must be cured."""
    from beckwright.tables.practice import FREEBOARD_FAILS

    return any(edge.freeboard[-1] < FREEBOARD_FAILS.amount for edge in found.edges)


def _edges(found: "AsBuilt") -> Iterator[str]:
    if not found.edges:
        return
    yield typer.style("Edges, the lowest over the water first", bold=True)
    heads = ("edge", "at", "shot", "drawn", "off", *(f"at {flow}" for flow in found.flows), "raise")
    yield table([_edge(edge) for edge in found.edges], heads=heads, indent="  ")
    strongest = found.flows[-1]
    low = [edge for edge in found.edges if edge.raised > 0]
    wanted = millimetres(found.built.job.course.freeboard_wanted)
    yield wrapped(
        f"{len(low)} of {len(found.edges)} stand less than the {wanted} wanted over the water at {strongest}, "
        "at the high end of its band, settlement to come taken off."
    )


def _edge(edge: "Off") -> tuple[str, ...]:
    boards = (_signed(float(each)) for each in edge.freeboard)
    return (*_place(edge), *boards, millimetres(edge.raised) if edge.raised else "")


def _place(off: "Off") -> tuple[str, ...]:
    return (
        off.what,
        f"{with_unit(off.chainage, 'm'):.1f}",
        f"{number_in(off.shot, 'm'):.3f}",
        f"{number_in(off.drawn, 'm'):.3f}",
        _signed(off.off),
    )


def _signed(length: float) -> str:
    whole = round(length * 1000)
    return f"{'+' if whole > 0 else ''}{number_in(whole, 'mm'):,.0f}"


def _lips(found: "AsBuilt") -> Iterator[str]:
    if not found.lips:
        return
    yield ""
    yield typer.style("Lips, the worst first", bold=True)
    heads = ("lip", "at", "shot", "drawn", "off", "right over left", *(f"left at {flow}" for flow in found.flows))
    yield table([_lip(lip, len(found.flows)) for lip in found.lips], heads=heads, indent="  ")
    for lip in found.lips:
        if lip.shimmed and lip.tilt is not None and abs(lip.tilt) >= _LEAST_TILT:
            yield wrapped(f"Shim the {lip.shimmed} end of {lip.name} up {millimetres(abs(lip.tilt))}.")


def _lip(lip: "LipBuilt", flows: int) -> tuple[str, ...]:
    shares = [share(float(each)) for each in lip.share_left] or [""] * flows
    return (*_place(lip.off), "" if lip.tilt is None else _signed(lip.tilt), *shares)


def _others(found: "AsBuilt") -> Iterator[str]:
    beyond = [off for off in found.others if off.beyond]
    if not found.others:
        return
    yield ""
    yield typer.style("Beds and dig levels farther off than the work allows", bold=True)
    if not beyond:
        yield f"  None of {len(found.others)}."
        return
    rows = [(*_place(off), f"±{number_in(off.allowed * 1000, 'mm'):,.0f}") for off in beyond]
    yield table(rows, heads=("what", "at", "shot", "drawn", "off", "allowed"), indent="  ")
