"""Colours of the picture sheet: water, earth and edge by day and by night, told apart in grey as well."""

from beckwright.papers.drawing import Colour

INK: Colour = "#14201E"
WATER: Colour = "#4F97AB"
WATER_PALE: Colour = "#B9D9DE"
EARTH: Colour = "#E3D6BF"
EDGE: Colour = "#DCE6CC"
NIGHT: Colour = INK
NIGHT_EARTH: Colour = "#47534F"
NIGHT_WATER: Colour = "#0A5A72"
LIT: Colour = "#FBFAF2"
GLOW: Colour = "#B9D9DE"
