"""The answers of a first visit at a terminal."""

from beckwright.cli.tell import table, wrapped
from beckwright.visit import PRICE_NAMES, VisitAnswers
from beckwright.visit.words import CAUTIONS, machines_in_words, next_in_words, pit_in_words, taken, told


def in_words(answers: VisitAnswers) -> str:
    """Ranges, what moves each, what was taken for granted, and what to measure next."""
    lines = [table([(each.name, each.says, each.note) for each in told(answers) if len(each.note) <= 60])]
    lines += [wrapped(f"{each.name}: {each.says}, {each.note}.") for each in told(answers) if len(each.note) > 60]
    lines += ["", wrapped(f"Pit: {pit_in_words(answers)}. {machines_in_words(answers)}")]
    lines += [wrapped(each) for each in _not_told(answers)]
    lines += ["", "What moves each most"]
    lines += [
        wrapped(f"{each.name}: {each.moved} {each.order}", first="  ", rest="    ")
        for each in told(answers)
        if each.moved
    ]
    if answers.next:
        lines += ["", wrapped(f"Next: {next_in_words(answers)}")]
    lines += ["", "Taken for it"]
    lines += [wrapped(f"{says}: {band}", first="  ", rest="    ") for _, says, band in taken(answers.visit)]
    lines += ["", wrapped(how_in_words(answers)), "", *(wrapped(each) for each in CAUTIONS)]
    return "\n".join(lines)


def how_in_words(answers: VisitAnswers) -> str:
    """How the ranges came about."""
    return f"{answers.designed} streams were designed within these; the least and the most of them stand here."


def _not_told(answers: VisitAnswers) -> list[str]:
    """Money that nobody gave a price for is not told."""
    prices, missing = answers.visit.prices, []
    if prices.of("energy") is None:
        missing.append("What a year costs is not told: give the tariff with --price energy=AMOUNT.")
    if not answers.priced:
        names = ", ".join(
            f"{name} ({what}, a {unit})" for name, (what, unit) in PRICE_NAMES.items() if name != "energy"
        )
        missing.append(f"What building costs is not told: give your own prices with --price NAME=AMOUNT: {names}.")
    return missing
