"""Habits about what stands round the works: footings, services, neighbours, the way in, the survey."""

from beckwright.base.tabled import assumed, habit

PARTY_WALL_NEAR = habit(
    3.0,
    3.0,
    6.0,
    "m",
    "Party Wall etc. Act 1996, section 6, as surveyors' pages tell it: a dig this near a neighbour's building or wall "
    "and below its foundations wants notice a month before; farther off it is the line at 45 degrees that decides",
    jurisdiction="England and Wales",
)

WAY_CLEARANCE = habit(0.05, 0.05, 0.15, "m", "room each side of a digger on the way in; hire pages give no one figure")
DIGGER_STANDOFF = habit(0.50, 0.50, 1.00, "m", "a digger's tracks back from the edge of what it digs")

SURVEY_SPACING = habit(
    3.0, 2.0, 5.0, "m", "survey points under the works stand no farther apart, closer where the slope changes"
)

RUNOFF_AHEAD = assumed(2.0, 1.0, 3.0, "m", "an arrow of seen water is drawn by hand and stops short of what it meets")
CATCHMENT_TOLD = assumed(10.0, 5.0, 20.0, "m2", "ground that sheds less than this onto one place is left to the lawn")
PATHS_JOINED = assumed(1.5, 1.0, 2.0, "m", "water that meets the course no farther apart is one place to mend")
HOLLOW_RUN_OVER = assumed(
    2.0,
    1.0,
    3.0,
    "1",
    "hollows up to this many times the survey's doubt are taken for a slip of the staff and run over",
)
