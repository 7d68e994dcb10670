"""The estimate at a terminal: groups, lines, how sure the sum is; and what changed since the quote."""

from collections.abc import Iterator

import typer

from beckwright.base.quantities import Money
from beckwright.base.words import grouped, in_print, opening, price_of_one, share
from beckwright.cli.tell import table, wrapped
from beckwright.papers.sheets.money.order import asked
from beckwright.papers.sheets.money.words import between, counted, one_priced, whole
from beckwright.stages.money import Estimate, Line, Variation, Variations

_ROOM = (36, 24, 18)
"""Columns of names, amounts and prices: with the sums beside them a line fits a terminal."""
_HEADS = ("line", "how much", "at", "likely", "low to high")


def in_words(estimate: Estimate, budget: Money | None) -> str:
    """The whole estimate."""
    return "\n".join([*_lines(estimate), "", *_sums(estimate), "", *_sure(estimate, budget), *_missing(estimate)])


def since_in_words(variations: Variations, currency: str) -> str:
    """Every line that is not as quoted, then the sums."""
    moved = [line for line in variations.lines if line.changed != "as quoted"]
    heads = ("line", "what", "amount then", "now", "then", "now", "by amount", "by rate")
    sums = [
        ("Quoted", grouped(variations.then, 2)),
        ("changed amounts, at the rates of the quote", _signed(variations.by_amount)),
        ("changed rates, on the amounts of now", _signed(variations.by_rate)),
        ("new lines", _signed(variations.added)),
        ("lines gone", _signed(variations.gone)),
        ("Now", grouped(variations.now, 2)),
        ("Difference", _signed(variations.difference)),
    ]
    stand = len(variations.lines) - len(moved)
    return "\n".join(
        [
            typer.style(f"Since the quote, {currency} without tax and contingency", bold=True),
            table([_variation(line) for line in moved], heads=heads, indent="  ") if moved else "  Nothing changed.",
            f"  {stand} lines stand as quoted.",
            "",
            table([(words, amount.rjust(12)) for words, amount in sums], indent="  "),
        ]
    )


def _lines(estimate: Estimate) -> Iterator[str]:
    taxed = f", lines without {estimate.tax_name}" if estimate.tax is not None else ""
    yield typer.style(f"Estimate of {estimate.day}, {estimate.currency}{taxed}", bold=True)
    rows: list[tuple[str, ...]] = []
    for group in estimate.groups:
        rows.append((opening(group.group), "", "", whole(group.cost[1]), between(group.cost[0], group.cost[2])))
        rows += [_line(line) for line in estimate.lines if line.group == group.group]
    widths = [max(len(row[column]) for row in (_HEADS, *rows)) for column in (3, 4)]
    right = [(*row[:3], *(cell.rjust(width) for cell, width in zip(row[3:], widths, strict=True))) for row in rows]
    heads = (*_HEADS[:3], *(cell.rjust(width) for cell, width in zip(_HEADS[3:], widths, strict=True)))
    yield table(right, heads=heads)


def _line(line: Line) -> tuple[str, ...]:
    words = (f"  {opening(line.item.name)}", asked(line), _at(line))
    cells = [_cut(cell, room) for cell, room in zip(words, _ROOM, strict=True)]
    if line.cost is None:
        return (*cells, "–", "")
    low, likely, high = line.cost
    return (*cells, whole(likely), "" if round(low) == round(high) else between(low, high))


def _at(line: Line) -> str:
    if line.row is None or line.price is None:
        return "no price given"
    if line.number is None:
        return "unit does not fit"
    if line.price == (0.0, 0.0, 0.0):
        return line.row.note
    word = line.row.sold.word
    price = price_of_one(line.price[1], in_print(word))
    return f"{grouped(price, 0 if price == round(price) else 2)} {one_priced(word)}"


def _sums(estimate: Estimate) -> Iterator[str]:
    risky = ", ".join(group.group for group in estimate.groups if group.risky)
    low, likely, high = estimate.works
    rows = [("All lines", whole(likely)), ("all of them low, all of them high", between(low, high))]
    rows.append((f"Contingency, {share(estimate.share)} of {risky or 'nothing'}", whole(estimate.contingency)))
    if estimate.tax is not None:
        rows.append((f"{opening(estimate.tax_name)}, {share(estimate.tax)}", whole(estimate.tax_sum)))
    rows.append((f"Likely total, {estimate.currency}", whole(estimate.total)))
    yield table([(words, amount.rjust(18)) for words, amount in rows])
    yield wrapped(f"Contingency: {estimate.share_from}.")


def _sure(estimate: Estimate, budget: Money | None) -> Iterator[str]:
    chance = estimate.chance
    if chance.p90 <= 0:
        return
    yield typer.style("How sure that is", bold=True)
    rows = [
        ("half of the tries stay under", chance.p50),
        ("8 in 10 stay under", chance.p80),
        ("9 in 10 stay under", chance.p90),
    ]
    yield table([(words, whole(amount).rjust(9)) for words, amount in rows], indent="  ")
    if budget is not None:
        yield f"  {share(float((chance.totals <= budget).mean()))} of them stay under the budget of {whole(budget)}."
    yield wrapped(
        f"{grouped(len(chance.totals))} tries, seed {chance.seed}, tax in them, contingency not. Each amount is drawn "
        "by itself between its ends, and so is each price: what drives two lines at once makes the spread wider.",
        first="  ",
    )


def _missing(estimate: Estimate) -> Iterator[str]:
    if estimate.missing:
        yield ""
        yield typer.style(f"{len(estimate.missing)} lines have no price and are in no sum", bold=True)
        for item in estimate.missing:
            yield wrapped(f"{opening(item.name)} ({item.key})", first="  - ", rest="    ")


def _variation(line: Variation) -> tuple[str, ...]:
    then = "" if line.changed == "new" else counted(line.amount_then, line.unit, _digits(line.amount_then))
    now = "" if line.changed == "gone" else counted(line.amount_now, line.unit, _digits(line.amount_now))
    name = line.name if line.changed == "gone" else opening(line.name)
    return (
        _cut(name, 31),
        line.changed,
        then,
        now,
        grouped(line.then, 2).rjust(9),
        grouped(line.now, 2).rjust(9),
        _signed(line.by_amount).rjust(9),
        (_signed(line.by_rate) if line.by_rate else "").rjust(8),
    )


def _digits(amount: float) -> int:
    return 0 if amount == round(amount) else 2


def _signed(money: Money) -> str:
    return f"{'+' if money > 0 else ''}{grouped(money, 2)}"


def _cut(words: str, room: int) -> str:
    return words if len(words) <= room else f"{words[: room - 1].rstrip()}…"
