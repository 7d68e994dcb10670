"""Marks written straight out are, tag for tag, what ezdxf writes of the same marks (reference library)."""

import io
from typing import Any

import pytest
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.lldxf.tagwriter import TagWriter

from beckwright.papers.formats import dxf_marks

RING = [(1.0, 2.0), (5.5, 2.25), (4.0, -3.125)]
LOOK = {"layer": "bed", "color": 7, "lineweight": 25}
RED = {**LOOK, "linetype": "dash 5 2", "ltscale": 0.1, "true_color": 0xBE2A2A}
PLAIN = dxf_marks.look("bed", 25, 7)
DASHED = dxf_marks.look("bed", 25, 7, true_colour=0xBE2A2A, line_type="dash 5 2", stretched=0.1)
FAMILIES = [(45.0, (0.5, 0.25), (-1.5, 1.5), [2.0, -1.0]), (90.0, (0.0, 0.0), (-3.0, 0.0), [])]


def _polyline(layout: Any) -> None:
    dxf_marks.polyline(layout, RING, closed=True, look=DASHED)
    layout.add_lwpolyline(RING, close=True, dxfattribs=RED)


def _circle(layout: Any) -> None:
    dxf_marks.circle(layout, RING[0], 0.75, look=DASHED)
    layout.add_circle(RING[0], 0.75, dxfattribs=RED)


@pytest.mark.parametrize(
    ("across", "align", "turn", "squeeze"),
    [
        ("left", TextEntityAlignment.LEFT, 0.0, 1.0),
        ("middle", TextEntityAlignment.CENTER, -145.5, 1.0),
        ("right", TextEntityAlignment.RIGHT, 30.0, 0.85),
    ],
)
def test_words(across: Any, align: TextEntityAlignment, turn: float, squeeze: float) -> None:
    def words(layout: Any) -> None:
        dxf_marks.text(
            layout,
            "lip 2: Ø 40",
            RING[1],
            height=2.5,
            turn=turn,
            style="Standard 600",
            squeeze=squeeze,
            across=across,
            look=PLAIN,
        )
        look = {**LOOK, "style": "Standard 600", "width": squeeze}
        drawn = layout.add_text("lip 2: Ø 40", height=2.5, rotation=turn, dxfattribs=look)
        drawn.set_placement(RING[1], align=align)

    _same(words)


def _solid(layout: Any) -> None:
    dxf_marks.hatch(layout, RING, look=PLAIN)
    layout.add_hatch(dxfattribs=LOOK).paths.add_polyline_path(RING, is_closed=True)


def _hatch(layout: Any) -> None:
    dxf_marks.hatch(layout, RING, look=PLAIN, name="slanted", families=FAMILIES)
    hatch = layout.add_hatch(dxfattribs=LOOK)
    hatch.set_pattern_fill("slanted", color=7, definition=[list(family) for family in FAMILIES])
    hatch.paths.add_polyline_path(RING, is_closed=True)


def _wipeout(layout: Any) -> None:
    dxf_marks.wipeout(layout, RING, layer="peg")
    layout.add_wipeout(RING).dxf.layer = "peg"


@pytest.mark.parametrize("draw", [_polyline, _circle, _solid, _hatch, _wipeout])
def test_marks(draw: Any) -> None:
    _same(draw)


def _same(draw: Any) -> None:
    """In model space and on the layout."""
    document = new("R2010")
    for layout in (document.modelspace(), document.paperspace()):
        before = len(layout)
        draw(layout)
        own, reference = (_told(entity) for entity in list(layout)[before:])
        assert own == reference


def _told(entity: Any) -> list[str]:
    """Its tags without its handle."""
    stream = io.StringIO()
    entity.export_dxf(TagWriter(stream, dxfversion="AC1024"))
    told = stream.getvalue().split("\n")
    return told[:3] + told[4:]
