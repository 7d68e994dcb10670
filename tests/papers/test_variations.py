"""Advances of the typeface at any weight and width, held against the library that instances variable fonts."""

import pytest
from fontTools.ttLib import TTFont
from fontTools.varLib.models import normalizeLocation, piecewiseLinearMap
from fontTools.varLib.varStore import VarStoreInstancer

from beckwright.papers import fonts
from beckwright.papers.variations import advances_at


@pytest.fixture(scope="module")
def font() -> TTFont:
    return TTFont(fonts.folder() / fonts.FILE)


@pytest.mark.parametrize("wide", [75, 85, 93, 100])
@pytest.mark.parametrize("weight", [100, 250, 400, 450, 600, 700])
def test_advances_are_the_librarys(font: TTFont, weight: int, wide: int) -> None:
    axes = {axis.axisTag: (axis.minValue, axis.defaultValue, axis.maxValue) for axis in font["fvar"].axes}
    place = normalizeLocation({"wght": weight, "wdth": wide}, axes)
    place = {tag: piecewiseLinearMap(at, font["avar"].segments[tag]) for tag, at in place.items()}
    table = font["HVAR"].table
    moved = VarStoreInstancer(table.VarStore, font["fvar"].axes, place)
    theirs = {name: font["hmtx"][name][0] + moved[row] for name, row in table.AdvWidthMap.mapping.items()}
    assert advances_at(font, {"wght": weight, "wdth": wide}) == pytest.approx(theirs, abs=1e-9)
