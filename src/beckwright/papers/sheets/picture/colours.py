"""Colours of the picture sheet: water, earth and edge by day and by night, told apart in grey as well."""

from beckwright.base.values import value
from beckwright.papers.drawing import WHITE, Colour

INK: Colour = "#14201E"
DEEP: Colour = "#0A5A72"
WATER: Colour = "#4F97AB"
WATER_PALE: Colour = "#B9D9DE"
EARTH: Colour = "#E3D6BF"
EDGE: Colour = "#DCE6CC"
NIGHT: Colour = INK
NIGHT_EARTH: Colour = "#2E3936"
NIGHT_LINE: Colour = "#7C8985"
LIT: Colour = "#FBFAF2"
LIGHT: Colour = LIT
GLOW: Colour = "#4A8496"
"""Lit air: as far from the dark as from the white of lit water, so that all three part in grey."""


@value
class Light:
    """Colours of one picture: sky, earth, still water, water that runs, its upper line, stones and lips, words."""

    sky: Colour
    earth: Colour
    still: Colour
    moving: Colour
    shine: Colour
    stone: Colour
    words: Colour


DAY = Light(sky=WHITE, earth=EARTH, still=WATER_PALE, moving=WATER, shine=DEEP, stone=INK, words=INK)
DARK = Light(sky=NIGHT, earth=NIGHT_EARTH, still=DEEP, moving=DEEP, shine=NIGHT_LINE, stone=NIGHT_LINE, words=LIT)
