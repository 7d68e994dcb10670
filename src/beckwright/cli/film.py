"""A film in words, as JSON, as CSV, and as a sheet."""

import csv
import io
import json
from typing import TYPE_CHECKING

from beckwright.base.words import number_in, opening, unit_called
from beckwright.cli.tell import table, wrapped

if TYPE_CHECKING:
    from beckwright.compose import Design
    from beckwright.film import Film

LAWS = ("low", "middle", "high")


def in_words(design: "Design", band: "tuple[Film, Film, Film]") -> str:
    """What happens and when, as a band between the laws; then the lips."""
    from beckwright.film.tell import clock, clock_band, litres_band

    low, middle, high = band
    floor = design.reservoir.pit.floor

    def level(film: "Film") -> str:
        return f"{number_in((film.lowest - floor) * 1000, 'mm'):.0f}"

    heads = ("", *(f"by the {law} law" for law in LAWS))
    rows = [
        ("ends", *(film.ended for film in band)),
        ("half the flow is back", *(clock(film.back_half, up=True) for film in band)),
        ("steady", *(clock(film.steady, up=True) for film in band)),
        (f"lowest level, {unit_called('mm')} over the pit floor", *(level(film) for film in band)),
        ("  after", *(clock(film.lowest_at, up=True) for film in band)),
        ("borrowed from the reservoir", *(litres_band((film.borrowed,)) for film in band)),
        ("over the overflow", *(litres_band((float(film.spilt[-1]),)) for film in band)),
        ("pump out of water", *(f"{len(film.cut_outs)} times" if film.cut_outs else "never" for film in band)),
    ]
    lips = [
        f"{one.name}: {clock_band(min(one.half, other.half), max(one.half, other.half))}"
        for one, other in zip(low.lips, high.lips, strict=True)
    ]
    title = f"{opening(middle.story)} at {middle.flow}" + (f", {middle.note}" if middle.note else "")
    verb = "Half gone from each lip" if middle.story == "stop" else "Half the flow over each lip"
    return "\n".join([title, table(rows, heads=heads, indent="  "), "", wrapped(f"{verb}: {'; '.join(lips)}.")])


def as_json(band: "tuple[Film, Film, Film]") -> str:
    """Three films, by the low, middle and high law, in SI."""
    from beckwright.film import film_dict

    return json.dumps([film_dict(film) for film in band], indent=1, allow_nan=False)


def as_csv(film: "Film") -> str:
    """One film, a row a frame."""
    from beckwright.film import COLUMNS, film_rows

    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows(film_rows(film))
    return text.getvalue().rstrip()


def as_svg(design: "Design", flow: str | None) -> str:
    """The start and stop sheet of one flow."""
    from beckwright.papers.filmed import filmed
    from beckwright.papers.formats.svg import write_svg
    from beckwright.papers.sheets.overview.film import film_sheet

    return write_svg(film_sheet(design, filmed(design, flow), 1, 1))
