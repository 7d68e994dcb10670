"""Order sheets: one for each supplier, in the units that supplier sells by, with what must be said at the counter."""

from collections.abc import Iterator, Sequence

from beckwright.base.items import Supplier
from beckwright.base.values import value
from beckwright.base.words import (
    METRIC,
    bore,
    flow,
    in_print,
    metres,
    millimetres,
    number_in,
    opening,
    reads,
    retold,
    share,
    tonnes,
    watts,
    with_unit,
)
from beckwright.compose import Design, Works
from beckwright.job.model import Sold
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import A3_FLAT, Circle, Mark, Millimetres, Sheet, Text
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.method.numbers import heaviest_sheet
from beckwright.papers.sheets.money.words import counted
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.papers.sheets.shared.frame import LEFT, LOW, TOP, SheetTitle, frame, heading, notes
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.money import Estimate, Line

WIDTHS = (72.0, 56.0, 62.0, 188.0)
HEADS = ("item", "how much", "that is", "what to say")
BIG, HEIGHT, STEP = 3.5, 2.5, 4.6
TOP_ROW, FOOT = TOP - 13.0, LOW + 62.0
"""Between these the table stands; below it what holds for all of it."""

SUPPLIERS: tuple[Supplier, ...] = (
    *("lining", "crates", "pump and hose", "quarry", "merchant", "nursery", "electrician", "haulier", "hire"),
)
"""In the order things are sent for. Nobody orders from his own crew."""

READERS: dict[Supplier, str] = {
    "lining": "maker of the lining",
    "crates": "maker of the crates",
    "pump and hose": "pump counter",
    "quarry": "quarry",
    "merchant": "merchant",
    "nursery": "nursery",
    "electrician": "electrician",
    "haulier": "haulier",
    "hire": "hire yard",
}

CAUTIONS: dict[Supplier, tuple[str, ...]] = {
    "lining": ("Cut lengths follow the levels as dug: order rolls now, cut after the dig is checked.",),
    "crates": (
        "Ask for long-term strength from above and from the side, in writing.",
        "Chamber and lid: the lid locks, and every piece of it is light enough for one person.",
    ),
    "pump and hose": (
        "Ask for the pump by its duty point, not by its greatest flow or greatest head.",
        "Tails and unions must have the hose's own bore; one narrow tail spoils the hose.",
        "A licensed electrician chooses cable and protection.",
    ),
    "quarry": (
        "Stone of more than [25 kg] is for two people or a machine; check the machine's lift at its reach.",
        "See the stone before it is loaded: size, colour, and no fines in what water will run through.",
    ),
    "merchant": ("Nothing that sheds salt, lime or oil where water runs.",),
    "nursery": ("No plant in place of another without asking: some cannot stand wet feet, some pierce linings.",),
    "electrician": (
        "A licensed electrician settles cable, protection and testing; this list is what he will ask about.",
    ),
    "haulier": (
        "Name the tip, and its licence. Topsoil and subsoil never in one load.",
        "No lorry within the root circles, nor over the pipes and cables on the plan.",
    ),
    "hire": ("Ask for the week's rate where it stands longer than three days.",),
}


@value
class Row:
    """One line of an order in words, with the lines its note takes."""

    cells: tuple[str, str, str]
    said: tuple[str, ...]

    @property
    def high(self) -> Millimetres:
        """Height of the row, mm."""
        return max(len(self.said), 1) * STEP + 3.6


def order_pages(estimate: Estimate) -> tuple[tuple[Supplier, tuple[Row, ...]], ...]:
    """What is asked of each supplier, page by page."""
    pages: list[tuple[Supplier, tuple[Row, ...]]] = []
    for supplier in SUPPLIERS:
        rows = [_row(line) for line in estimate.lines if line.item.supplier == supplier]
        pages += [(supplier, page) for page in _broken(rows)]
    return tuple(pages)


def order_sheets(
    design: Design, estimate: Estimate, first: int, of: int, works: Works | None = None
) -> tuple[Sheet, ...]:
    """All order sheets, numbered from ``first``; with ``works`` each tells the heaviest piece that has to come in."""
    pages = order_pages(estimate)
    return tuple(_sheet(design, *page, first + place, of, place, works) for place, page in enumerate(pages))


def _broken(rows: Sequence[Row]) -> Iterator[tuple[Row, ...]]:
    """Rows page by page, none cut."""
    page: list[Row] = []
    room = TOP_ROW - FOOT - STEP - 2.4
    for row in rows:
        if page and sum(each.high for each in page) + row.high > room:
            yield tuple(page)
            page = []
        page.append(row)
    if page:
        yield tuple(page)


def _row(line: Line) -> Row:
    return Row(
        cells=(opening(line.item.name), asked(line), also(line)),
        said=fonts.wrap(opening(line.item.note), WIDTHS[3] - 2.0, HEIGHT),
    )


def asked(line: Line) -> str:
    """How much is asked for, by the word the supplier sells by; by the item's own unit where nobody said."""
    if line.row is None or line.number is None:
        item = line.item
        return _natural(item.low, item.amount, item.high, item.unit)
    low, likely, high = line.number
    return _words(low, likely, high, line.row.sold)


def also(line: Line) -> str:
    """The same in a second unit, and what waste is in it."""
    item, row = line.item, line.row
    if row is None:
        return "net: no waste in it"
    told = []
    if row.sold.word not in (item.unit, "t") or item.unit != "kg":
        same = row.sold.word == item.unit
        told += [] if same or item.unit == "each" else [_natural(item.low, item.amount, item.high, item.unit)]
    if row.sold.density is not None and item.unit == "kg":
        told.append(f"{with_unit(item.amount / row.sold.density, 'm³'):.1f} loose")
    if row.waste > 0:
        told.append(f"{share(row.waste)} waste in it")
    return ", ".join(told)


def _words(low: float, likely: float, high: float, sold: Sold) -> str:
    digits = 0 if sold.whole or sold.word == "kg" else 1
    return _with_band((low, likely, high), sold.word, digits)


def _natural(low: float, likely: float, high: float, unit: str) -> str:
    """An amount in the unit people say: tonnes from 1000 kg up."""
    scale, word = (1e-3, "t") if unit == "kg" and high >= 1000 else (1.0, unit)
    digits = 0 if word in ("each", "kg") else 1
    return _with_band((low * scale, likely * scale, high * scale), word, digits)


def _with_band(numbers: tuple[float, float, float], word: str, digits: int) -> str:
    ends = [f"{number_in(number, in_print(word)):,.{digits}f}" for number in numbers[::2]]
    band = "" if ends[0] == ends[1] else f" ({ends[0]} to {ends[1]})"
    return f"{counted(numbers[1], word, digits)}{band}"


def _sheet(
    design: Design,
    supplier: Supplier,
    rows: tuple[Row, ...],
    number: int,
    of: int,
    place: int,
    works: Works | None,
) -> Sheet:
    job = design.job
    left = LEFT + 6.0
    marks, down = _table(left, rows)
    if supplier == "pump and hose":
        marks += [*_duties(design, left, down - 10.0), *_bore(design, (left + 250.0, down - 14.0))]
    cautions, _ = notes((left, FOOT - 12.0), tuple(map(retold, CAUTIONS[supplier])), 118.0, 2.2)
    title = SheetTitle(
        title=f"Order list: {supplier}",
        reader=f"for the {READERS[supplier]}",
        scale="no drawing",
        number=number,
        of=of,
    )
    return Sheet(
        name=f"order-{place + 1}-{supplier.replace(' ', '-')}",
        title=f"{job.title.name}: order list, {supplier}",
        paper=A3_FLAT,
        marks=(
            *frame(job, title),
            heading((left, TOP - 9.0), f"To order: {supplier}", 5.0),
            *marks,
            heading((left, FOOT - 6.0), "Mind"),
            *cautions,
            *_delivery(design, left + 126.0, () if works is None else tuple(_heavy(design, works, supplier))),
        ),
        description=f"What to order: {supplier}. {len(rows)} lines with how much and what to say.",
    )


def _table(left: float, rows: tuple[Row, ...]) -> tuple[list[Mark], float]:
    lefts = [left + sum(WIDTHS[:column]) for column in range(len(WIDTHS) + 1)]
    down = TOP_ROW - STEP - 2.4
    marks: list[Mark] = [ruled((left, at), (lefts[-1], at)) for at in (TOP_ROW, down)]
    marks += [
        Text(at=(at + 1.0, down + 2.2), words=words, height=HEIGHT, weight=600)
        for at, words in zip(lefts, HEADS, strict=False)
    ]
    for row in rows:
        base = down - STEP - 0.6
        marks += [
            fitted(
                (at + 1.0, base), words, wide - 2.0, HEIGHT if column == 2 else BIG, weight=400 if column == 2 else 600
            )
            for column, (at, wide, words) in enumerate(zip(lefts, WIDTHS, row.cells, strict=False))
        ]
        marks += [
            Text(at=(lefts[3] + 1.0, base - STEP * place), words=words, height=HEIGHT)
            for place, words in enumerate(row.said)
        ]
        down -= row.high
        marks.append(ruled((left, down), (lefts[-1], down)))
    return marks, down


def _duties(design: Design, left: float, top: float) -> list[Mark]:
    """The duty points side by side: what the pump must give, and what it draws there."""
    chosen = design.supply.chosen
    rows = [
        (
            "flow",
            "litres an hour" if reads() is METRIC else "US gallons an hour",
            "head",
            "lift in it",
            "watts",
            "speed",
        )
    ]
    rows += [
        (
            given.name,
            flow(given.wanted),
            *(
                ("cannot", "", "", "")
                if given.duty is None
                else (
                    metres(given.duty.head),
                    metres(given.duty.lift),
                    watts(given.duty.watts),
                    share(given.duty.speed),
                )
            ),
        )
        for given in chosen.flows
    ]
    drawn, _ = table((left, top - 4.0), (40, 32, 28, 28, 26, 22), rows, height=2.5, step=6.6)
    pumps = f"{chosen.together} side by side" if chosen.together > 1 else "one pump"
    said = f"Duty points, {pumps} on {metres(design.job.route.length)} of hose, bore {millimetres(chosen.hose.bore)}"
    return [heading((left, top), said), *drawn]


def _bore(design: Design, top: tuple[float, float]) -> list[Mark]:
    """The hose's bore at its true size: lay the hose's end on it. Left out where the sheet has no room for it."""
    hose = design.supply.chosen.hose
    across = hose.bore * 1000.0
    left, high = top
    if high - across < FOOT + 6.0:
        return []
    middle = (left + across / 2, high - across / 2)
    said = bore(hose.bore)
    return [
        Circle(at=middle, radius=across / 2, layer="hose", pen=pens.HEAVY),
        Text(at=middle, words=said, height=min(HEIGHT, across / 10), weight=600, across="middle", up="middle"),
        Text(at=(left, high + 3.0), words="Bore at its true size on A3: lay the hose's end on it.", height=2.2),
    ]


def _heavy(design: Design, works: Works, supplier: Supplier) -> Iterator[str]:
    """The heaviest piece of this supplier, what it has to be lifted with, and how it comes."""
    lifts, lorry = works.stonework.lifts, works.stonework.delivery.lorry
    if supplier in ("quarry", "hire") and lifts:
        top = lifts[0]
        reach = "" if top.reach is None else f", set {metres(top.reach)} from the machine's middle"
        yield f"Heaviest stone: {top.what}, {with_unit(top.mass, 'kg'):,.0f}{reach}."
    if supplier == "quarry" and lorry is not None:
        low, likely, high = works.stonework.delivery.loads or (0, 0, 0)
        loads = f"{likely}" if low == high else f"{low} to {high}"
        yield f"Loads of {tonnes(lorry)} as told: {loads} for all stone."
    if supplier == "lining":
        piece, mass, _ = heaviest_sheet(works)
        yield f"Heaviest sheet as cut: {piece}, {with_unit(mass, 'kg'):,.0f}."
    access = design.surroundings.access
    if supplier in ("hire", "haulier") and access.machine is not None and access.needed is not None:
        yield f"Digger {metres(access.machine)} wide wants {metres(access.needed)} of clear way."
    if supplier == "haulier" and design.job.earthworks.load is not None:
        yield f"Loads of {tonnes(design.job.earthworks.load)} as told."


def _delivery(design: Design, left: float, heavy: tuple[str, ...]) -> list[Mark]:
    """How it gets there: what somebody with a lorry must know."""
    site = design.job.site
    said = [f"Narrowest way in: {metres(site.access_width)}.", *heavy, *site.notes]
    marks: list[Mark] = [heading((left, FOOT - 6.0), "The way in")]
    down = FOOT - 12.0
    for line in said:
        rows = paragraph((left, down), line, 92.0, 2.2)
        if rows[-1].at[1] < LOW + 4.0:
            break
        marks += rows
        down = rows[-1].at[1] - 4.2
    return marks
