"""How a doubtful input is measured on site, in one line each: common practice, no source; the words are our own."""

import re

HOW: tuple[tuple[str, str], ...] = (
    (
        r"beds\..*\.voids",
        "Fill a bucket with these stones to the brim, then with water from a jug: litres in over litres it holds.",
    ),
    (
        r"beds\..*\.size_mm",
        "Take fifty stones blindly along a tape, measure each across its middle, leave out the five least and most.",
    ),
    (r"beds\..*\.depth_mm", "Push a rod down to the lining in ten places once the stones lie."),
    (r"materials\.edge_stone.*", "Lay one metre of edge dry, then weigh its stones in a barrow on a platform scale."),
    (
        r"course\.side_slope",
        "Cut one metre of trial trench, and tape how far the side leans back for its height once it stands.",
    ),
    (r"course\.settlement.*", "Level two pegs in the rammed fill on the day and again after a wet month."),
    (r"source\..*level.*", "Level from the datum to the top of the lip, both ends."),
    (r"source\..*", "Tape the outlet box itself, or the maker's drawing of the one ordered."),
    (r"reservoir\.cover_kn_m3", "Fill a ten-litre bucket with the cover's gravel, shake it down, weigh it."),
    (r"reservoir\.cover_level_m", "Level from the datum to pegs at the four corners of the pit."),
    (r"reservoir\.centre_m", "Mark the middle with a peg, and tape to it from two marks."),
    (
        r"reservoir\.(sump|pump_depth)_mm",
        "Stand the pump itself on the floor of its chamber, and tape up to its least water line.",
    ),
    (r"reservoir\.(crate|layers).*", "Tape one crate as delivered, clips and all."),
    (r"reservoir\..*", "Tape it in the open pit, before the lining goes in."),
    (r"hose\.line_m", "Lay a string along the whole route, round every tree, and tape the string."),
    (r"hose\.length_m", "Lay a string along the whole route, round every tree, and tape the string."),
    (r"hose\.fittings", "Lay the fittings out on a board in their order, and count."),
    (r"site\.topsoil_mm", "Dig a spade hole at each end and in the middle: tape down to where the colour changes."),
    (
        r"site\.groundwater.*",
        "Leave a trial hole open beside the pit for a week, covered and fenced; tape down to the water.",
    ),
    (
        r"site\.soil",
        (
            "Roll a wet piece from pit depth between the hands: a thread that holds is clay. Ask an "
            "engineer before a deep pit."
        ),
    ),
    (r"site\.access_width_m", "Tape the narrowest place at ground, hip and shoulder height."),
    (r"flows\..*", "Time a bucket at the hose's end, three times."),
    (r"running.*", "Ask the owners for hours a day, month by month; an hour meter tells it after a year."),
    (r"prices.*|.*_price|money\..*", "Ask for a written price of this very row."),
    (r"climate\.water_temperature_c", "Hang a thermometer in the shade of the pit for a day."),
    (r"survey\.csv", "Level the doubtful points again, and close on the datum."),
    (r".*level_m", "Level it from the datum, and close back on it."),
    (r".*_m\b", "Tape it, twice, from either end."),
    (r".*_mm\b", "Measure the thing itself as delivered, in three places."),
    (r".*_kg.*", "Weigh it: a platform scale takes a barrow."),
)


def how_measured(key: str) -> str:
    """The first line that fits; where none does, that it is to be measured at all."""
    return next((how for form, how in HOW if re.fullmatch(form, key)), "Measure it on site, and write down how.")
