"""The rows of the fault tree. Digits stand in none of them: every number is the job's, named in braces.

Common practice, no source. What works on wires, in the ground or on drinking water goes to licensed people.
"""

from typing import Literal

from beckwright.base.values import value

Who = Literal["you", "builder", "electrician", "water company"]


@value
class AskRow:
    """A question. ``other`` is gone to where the job lacks a number it names."""

    key: str
    says: str
    yes: str
    no: str
    other: str = ""


@value
class EndRow:
    """A leaf. ``other`` as for a question."""

    key: str
    says: str
    who: Who = "you"
    stops: bool = False
    other: str = ""


def _ask(key: str, says: str, yes: str, no: str, other: str = "") -> AskRow:
    return AskRow(key=key, says=says, yes=yes, no=no, other=other)


def _end(key: str, says: str, who: Who = "you", *, stops: bool = False, other: str = "") -> EndRow:
    return EndRow(key=key, says=says, who=who, stops=stops, other=other)


SYMPTOMS = (
    ("reservoir low in the morning", "low at rest"),
    ("cuts out after the start", "cuts full"),
    ("no water at the top", "none hums"),
    ("lights", "lights all"),
    ("one side of a lip dry", "lip leaf"),
    ("less water than it was", "less stick"),
    ("water on the lawn", "lawn stop"),
    ("noise", "noise sucks"),
    ("green water, or a smell", "green smell"),
)

QUESTIONS = (
    _ask(
        "low at rest",
        "Was the stick read both times with the pump off for {settles} or more?",
        "low drop",
        "read again",
        "low drop",
    ),
    _ask("low drop", "Overnight, pump off: is it down more than {night_most}?", "low twice", "low six", "low twice"),
    _ask(
        "low six",
        "Over {six} dry days in {month}: is it down more than {six_most}?",
        "low twice",
        "weather",
        "weather",
    ),
    _ask("low twice", "Water feed shut, pump off a second night: is it down as much again?", "leak pit", "leak stream"),
    _ask("cuts full", "At rest, is the water no more than {rested} below the lid?", "cuts back", "fill", "fill"),
    _ask(
        "cuts back",
        "Does water come back in at the bottom within {back_latest} of the start?",
        "cage",
        "bed dry",
        "too small",
    ),
    _ask("none hums", "Does the pump hum, or does its controller show a light?", "none level", "none power"),
    _ask("none power", "Has the protective switch at the board tripped?", "tripped", "timer"),
    _ask("none level", "Is the water between {rested} and {least} below the lid?", "airlock", "fill"),
    _ask(
        "less stick",
        "Running steadily at {flow}: does the stick read {running} below the lid?",
        "less lips",
        "less deep",
        "less lips",
    ),
    _ask("less deep", "Is the water higher than that, nearer the lid?", "less clean", "fill"),
    _ask("less lips", "Is the water there, but lower over the stones than it was?", "stones moved", "less clean"),
    _ask("less clean", "Cage and slots clean, setting as on the card: is it still less?", "pump worn", "was dirty"),
    _ask("lawn stop", "Is it wet only in the {settles} after switching off?", "lawn fed", "lawn rain", "lawn rain"),
    _ask("lawn fed", "Was it filled up while it ran?", "fill at rest", "overflow blocked"),
    _ask(
        "lawn rain", "Did more than {storm} of rain fall since yesterday?", "overflow works", "lawn edge", "lawn edge"
    ),
    _ask("lip leaf", "Does a leaf, a stone or moss lie on the lip?", "clear lip", "shim"),
    _ask("lights all", "Are all of them out?", "lights supply", "one light"),
    _ask("noise sucks", "Does it suck or gurgle in the chamber?", "fill", "noise rattles"),
    _ask("noise rattles", "Does the pump rattle or grind?", "pump rattles", "noise flow"),
    _ask("green smell", "Does it smell rotten?", "smell", "algae"),
)

LEAVES = (
    _end(
        "read again",
        "Switch off, wait {settles}, and read again. Switching on alone takes {lent} out of the reservoir: "
        "a reading at rest and one while it runs tell nothing of a loss.",
    ),
    _end(
        "weather",
        "That is weather. Fill up at rest to {rested} below the lid; a dry week in {month} takes {week_litres}. "
        "{litre_deep} on the stick: a small reservoir shows {amplified} times what the stream loses.",
    ),
    _end(
        "leak pit",
        "It loses water while nothing runs: the reservoir itself, or an edge of it. Leave the pump off, note both "
        "readings and the hour, and ring {builder}.",
        "builder",
        stops=True,
    ),
    _end(
        "leak stream",
        "It loses water only while it runs: an edge, a lip or a lap. {off_or}; look along "
        "both edges for wet ground, and ring {builder}. Nobody digs before services are found.",
        "builder",
    ),
    _end(
        "fill",
        "Leave the pump off and fill up to {rested} below the lid, at rest, through an open air gap, no hose left "
        "hanging in. The pump's least is {least}. Then start again.",
    ),
    _end(
        "cage",
        "Switch it off at its isolator, not by the plug alone. {lid}. Draw the pump up by its rope, clean cage "
        "and slots, wash your hands, lock the lid. Children stay away while it is open.",
    ),
    _end(
        "bed dry",
        "The stones swallow the first water: top up as it runs, no lower than {least}, until it comes back. If it "
        "has not within twice the time, switch off and ring {builder}.",
        "builder",
    ),
    _end(
        "too small",
        "At {flow} this reservoir runs out {cuts_out} after the start: the water in motion, {lent}, is more than "
        "the {useful} it can lend. {set_gentle}, and ring {builder}.",
        "builder",
        other="bed dry",
    ),
    _end(
        "tripped",
        "Leave it off. One trip has a reason: water in a joint or in the pump. Touch nothing wet, and ring "
        "{electrician}.",
        "electrician",
        stops=True,
    ),
    _end(
        "timer",
        "Look at timer and isolator: on, and at the hour? If they are, touch nothing further and ring {electrician}.",
        "electrician",
    ),
    _end(
        "airlock",
        "Switch off, count to sixty, switch on: air leaves the hose. If nothing comes within twice the usual "
        "time, leave it off and ring {builder}: hose kinked, blocked or off its tail.",
        "builder",
        stops=True,
    ),
    _end(
        "stones moved",
        "Stones or plants stand in the way. Lift back what has moved, take out what grows in the channel; "
        "a stone you cannot lift with a straight back waits for {builder}.",
    ),
    _end("was dirty", "It was dirt. Write the day on the card: cleaned too late, pumps wear."),
    _end(
        "pump worn",
        "The pump, or its hose, gives less than it did: at {rate} the stick would read as on the card. Ring "
        "{builder} for a bucket test, and write it into the yearly record.",
        "builder",
    ),
    _end(
        "fill at rest",
        "Fill up at rest only: {lent} are on their way while it runs, and come back at the stop. Shut the "
        "feed while it runs and fill to {rested} in the morning.",
    ),
    _end(
        "overflow blocked",
        "More comes back than there is room for, or the overflow is blocked. {set_gentle}, clear the "
        "overflow's mouth, {overflow} below the lid, and ring {builder} if it is wet again.",
        "builder",
    ),
    _end(
        "overflow works",
        "It was rain: a resting reservoir has room for {storm}. The overflow leads to {overflow_to}; see "
        "that its mouth is free.",
        other="overflow blocked",
    ),
    _end(
        "lawn edge",
        "Water leaves over an edge. {off_or}, mark the wet place with a peg, and ring "
        "{builder}. Do not dig: the lining lies close under, and cables may.",
        "builder",
    ),
    _end(
        "clear lip",
        "Switch off, take it away, look again at {flow}. Wet stone is slippery: stand beside the water, not in it.",
    ),
    _end(
        "shim",
        "The stone has tilted. A level across it shows the low end; ring {builder}, who shims that end up.",
        "builder",
    ),
    _end(
        "lights supply",
        "Look whether the protective switch has tripped. Whether or not, leave it and ring {electrician}.",
        "electrician",
    ),
    _end("one light", "Leave it: lamp or joint stands in the wet. Tell {electrician} which one.", "electrician"),
    _end(
        "pump rattles",
        "Switch it off now: a stone is in it, or its bearing goes. Ring {builder} before it runs again.",
        "builder",
        stops=True,
    ),
    _end(
        "noise flow",
        "{set_gentle} and listen. If that is quiet, a stone laid where the water lands mends the rest: tell {builder}.",
    ),
    _end(
        "smell",
        "Sludge. Leave the pump running by day for a week; do not climb in. If it smells still, ring {builder} to lift "
        "it out. Nobody drinks or bathes in it; wash hands.",
    ),
    _end(
        "algae",
        "Sun and still water. Rake it out by hand, shade the "
        "pools, run it every day so that no pool stands still for a "
        "week. No chemicals without asking {builder}: animals drink here.",
    ),
)
