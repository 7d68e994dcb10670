"""What changed since the quote, line by line, at the rates that were quoted; sums that add up as printed."""

from collections.abc import Iterator, Sequence

from beckwright.base.quantities import Money
from beckwright.base.words import grouped, in_print, opening, price_of_one
from beckwright.compose import Design
from beckwright.papers.drawing import A3_FLAT, Across, Mark, Sheet
from beckwright.papers.sheets.money.words import counted
from beckwright.papers.sheets.shared.fitted import fitted
from beckwright.papers.sheets.shared.frame import LEFT, LOW, TITLE_HIGH, TOP, SheetTitle, frame, heading, notes
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.money import Variation, Variations

WIDTHS = (76, 26, 34, 34, 30, 30, 32, 32, 32, 32)
ACROSS: tuple[Across, ...] = ("left", "left", *("right",) * 8)
HEADS = ("line", "what", "amount then", "now", "rate then", "now", "then", "now", "by amount", "by rate")
STEP = 5.2
TOP_ROW = TOP - 14.0
ROWS = int((TOP_ROW - LOW - TITLE_HIGH - 46.0) / STEP) - 1
"""Lines of a sheet, the sums kept free below."""

RULES = (
    "By amount: what the change of amount comes to at the rate that was quoted.",
    "By rate: the amount of now at what the rate has changed by.",
    "A line without a price now stands at the rate of the quote. Money without tax, without contingency.",
    "A variation is agreed in writing before it is built.",
)


def quote_count(variations: Variations | None) -> int:
    """How many sheets it takes; none where nothing was quoted."""
    return 0 if variations is None else len(_pages(variations))


def quote_sheets(design: Design, variations: Variations, first: int, of: int) -> tuple[Sheet, ...]:
    """What changed since the quote, numbered from ``first``."""
    pages = _pages(variations)
    return tuple(
        _sheet(design, variations, page, (place + 1, len(pages)), first + place, of) for place, page in enumerate(pages)
    )


def _pages(variations: Variations) -> list[Sequence[Variation]]:
    """What changed before what is new, then what is gone, then what stands as quoted."""
    order = ("changed", "new", "gone", "as quoted")
    lines = sorted(variations.lines, key=lambda line: order.index(line.changed))
    return [lines[start : start + ROWS] for start in range(0, max(len(lines), 1), ROWS)]


def _sheet(
    design: Design,
    variations: Variations,
    lines: Sequence[Variation],
    part: tuple[int, int],
    number: int,
    of: int,
) -> Sheet:
    job, (place, count) = design.job, part
    currency = job.prices.currency
    reader = "for the client" + (f", part {place} of {count}" if count > 1 else "")
    title = SheetTitle(title="Since the quote", reader=reader, scale="no drawing", number=number, of=of)
    drawn, down = table((LEFT + 6.0, TOP_ROW), WIDTHS, [HEADS, *map(_row, lines)], height=2.2, step=STEP, across=ACROSS)
    return Sheet(
        name=f"since-the-quote-{place}",
        title=f"{job.title.name}: what changed since the quote",
        paper=A3_FLAT,
        marks=(
            *frame(job, title),
            heading((LEFT + 6.0, TOP - 9.0), f"What changed since the quote, {currency}", 5.0),
            *drawn,
            *(_sums(variations, down) if place == count else ()),
        ),
        description=f"Quoted {grouped(variations.then, 2)}, now {grouped(variations.now, 2)} {currency}.",
    )


def _row(line: Variation) -> tuple[str, ...]:
    then = "" if line.changed == "new" else _amount(line.amount_then, line.unit)
    now = "" if line.changed == "gone" else _amount(line.amount_now, line.unit)
    rates = (
        "" if line.changed == "new" else _money(price_of_one(line.rate_then, in_print(line.unit))),
        "" if line.changed == "gone" else _money(price_of_one(line.rate_now, in_print(line.unit))),
    )
    changes = tuple("" if part == 0 else _signed(part) for part in (line.by_amount, line.by_rate))
    name = line.name if line.changed == "gone" else opening(line.name)
    return (name, line.changed, then, now, *rates, _money(line.then), _money(line.now), *changes)


def _amount(amount: float, unit: str) -> str:
    return counted(amount, unit, 0 if amount == round(amount) else 2)


def _money(money: Money) -> str:
    return grouped(money, 2)


def _signed(money: Money) -> str:
    return f"{'+' if money > 0 else ''}{grouped(money, 2)}"


def _sums(variations: Variations, down: float) -> Iterator[Mark]:
    left, base = LEFT + 6.0, down - 9.0
    rows = (
        ("Quoted", _money(variations.then)),
        ("changed amounts, at the rates of the quote", _signed(variations.by_amount)),
        ("changed rates, on the amounts of now", _signed(variations.by_rate)),
        ("new lines", _signed(variations.added)),
        ("lines gone", _signed(variations.gone)),
        ("Now", _money(variations.now)),
        ("Difference", _signed(variations.difference)),
    )
    for place, (words, amount) in enumerate(rows):
        strong = place in (0, len(rows) - 2, len(rows) - 1)
        at = base - 5.0 * place
        yield fitted((left, at), words, 80.0, 2.5, weight=600 if strong else 400)
        yield fitted((left + 116.0, at), amount, 32.0, 2.5, weight=600 if strong else 400, across="right")
    said, _ = notes((left + 130.0, base), RULES, 84.0, 2.0)
    yield from said
