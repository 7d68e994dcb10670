"""The method and hazard sheet: stage by stage this job's numbers, the orders, who decides; then names and the log."""

from collections.abc import Generator, Iterator, Sequence

from beckwright.base.values import value
from beckwright.base.words import opening
from beckwright.compose import Design, Works
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import A3_FLAT, Mark, Millimetres, Sheet, Text, Weight
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.method.stage import StageOfWork, dates_of
from beckwright.papers.sheets.method.words import stages_of_work
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TITLE_WIDE,
    TOP,
    SheetTitle,
    frame,
    heading,
)

READER = "for everyone on site: read it together on the first morning"
START = LEFT + 6.0
WIDTHS = (46.0, 122.0, 152.0, 58.0)
HEADS = ("when", "this job", "orders", "who decides")
FIRST_ROW, FOOT = TOP - 17.0, LOW + TITLE_HIGH + 3.0
HEIGHTS = (2.5, 2.4, 2.3, 2.2, 2.1, 2.0)
"""Letters as large as the page takes; where the least are too many, a second page."""
LOG_ROWS = 14
TRADES = (("builder", "site lead"), ("electrician",), ("arboriculturist", "arborist", "tree officer"))
"""Trades under which a job's people are looked for: who leads, who wires, who looks after trees."""
SOURCES = (
    "Digging: 29 CFR 1926 subpart P, table B-1 (US); CDM Regulations 2015, regulation 22 (UK). Services: HSG47 (UK). "
    "Lifting by hand: HSE L23 (UK), filter values and team shares. Lift chart: ISO 10567 shares. Trees: BS 5837:2012 "
    "(UK). Residual current 30 mA, clearances and distances: common practice. Legionella: HSG274 part 3 (UK, "
    "recalled). Each holds where it is named; elsewhere the codes of the place do. Local codes and licensed practice "
    "decide: this sheet tells what the design knows, it is no assessment of the work and no advice on the law."
)


@value
class MethodPage:
    """Stages on one page in letters of one height; the last page has none: it is for names and the log."""

    stages: tuple[StageOfWork, ...]
    height: Millimetres


def method_pages(design: Design, works: Works) -> tuple[MethodPage, ...]:
    """One or two pages of stages, then the page to sign."""
    stages = stages_of_work(design, works)
    room = FIRST_ROW - 6.0 - FOOT
    for height in HEIGHTS:
        if sum(_high(works, stage, height) for stage in stages) <= room:
            return (MethodPage(stages=stages, height=height), MethodPage(stages=(), height=HEIGHTS[0]))
    return (*_broken(works, stages, room), MethodPage(stages=(), height=HEIGHTS[0]))


def _broken(works: Works, stages: Sequence[StageOfWork], room: Millimetres) -> Iterator[MethodPage]:
    height, page = HEIGHTS[2], list[StageOfWork]()
    for stage in stages:
        if page and sum(_high(works, each, height) for each in (*page, stage)) > room:
            yield MethodPage(stages=tuple(page), height=height)
            page = []
        page.append(stage)
    yield MethodPage(stages=tuple(page), height=height)


def method_sheets(
    design: Design, works: Works, pages: tuple[MethodPage, ...], first: int, of: int
) -> tuple[Sheet, ...]:
    """All pages, numbered from ``first``."""
    return tuple(_sheet(design, works, page, place, first + place, of) for place, page in enumerate(pages))


def _sheet(design: Design, works: Works, page: MethodPage, place: int, number: int, of: int) -> Sheet:
    job = design.job
    name = "Method and hazards" if page.stages else "Who decides, and the log"
    title = SheetTitle(title=name, reader=READER, scale="no drawing", number=number, of=of)
    drawn = _stages(works, page) if page.stages else _signed(design)
    return Sheet(
        name=f"method-{place + 1}",
        title=f"{job.title.name}: {name[:1].lower()}{name[1:]}",
        paper=A3_FLAT,
        marks=(*frame(job, title), *drawn),
        description=(
            f"Stages of the work on {job.title.name} with what can hurt: numbers of this job, orders, who decides: "
            f"{', '.join(stage.name for stage in page.stages)}."
            if page.stages
            else f"Who decides what on {job.title.name}, with lines to sign; the log of looking at pit and trenches."
        ),
    )


def _cells(works: Works, stage: StageOfWork, height: Millimetres) -> tuple[tuple[tuple[str, ...], ...], ...]:
    """Lines of each cell, paragraph by paragraph."""
    when = dates_of(works, stage.tasks)
    texts: tuple[tuple[str, ...], ...] = ((), stage.numbers, stage.orders, (opening(stage.decides) + ".",))
    cells = [
        tuple(fonts.wrap(text, wide - 4.0, height, weight=_weight(column, place)) for place, text in enumerate(told))
        for column, (wide, told) in enumerate(zip(WIDTHS, texts, strict=True))
    ]
    name = fonts.wrap(stage.name, WIDTHS[0] - 4.0, height + 0.6, weight=700)
    cells[0] = (name, *((fonts.wrap(when, WIDTHS[0] - 4.0, height),) if when else ()))
    return tuple(cells)


def _weight(column: int, place: int) -> Weight:
    """The name, the first number of each stage and who decides stand out: they are what is looked for."""
    if column == 0:
        return 400 if place else 700
    return 600 if column == 3 or (column == 1 and place == 0) else 400


def _drop(height: Millimetres) -> Millimetres:
    return 1.25 * fonts.size(height)


def _high(works: Works, stage: StageOfWork, height: Millimetres) -> Millimetres:
    """The tallest cell of a row, with the air round it."""
    cells = _cells(works, stage, height)
    tall = [sum(len(lines) for lines in cell) * _drop(height) + 0.8 * max(len(cell) - 1, 0) for cell in cells]
    tall[0] += len(cells[0][0]) * (_drop(height + 0.6) - _drop(height))
    return max(tall) + 3.2


def _stages(works: Works, page: MethodPage) -> Iterator[Mark]:
    yield heading((START, TOP - 9.0), "What is done, what can hurt, and whose word is waited for", 5.0)
    lefts = [START + sum(WIDTHS[:column]) for column in range(len(WIDTHS) + 1)]
    for at, words in zip(lefts, HEADS, strict=False):
        yield Text(at=(at + 2.0, FIRST_ROW - 4.0), words=words, height=page.height, weight=600)
    down = FIRST_ROW - 6.0
    yield ruled((START, down), (lefts[-1], down), pens.MEDIUM)
    for stage in page.stages:
        yield from _row(works, stage, page.height, lefts, down)
        down -= _high(works, stage, page.height)
        yield ruled((START, down), (lefts[-1], down))
    yield from _ring_first()


def _ring_first() -> Iterator[Mark]:
    """What is looked for in the first minute, to be filled in on the first morning."""
    room = RIGHT - TITLE_WIDE - START - 8.0
    down = LOW + TITLE_HIGH - 1.0
    yield heading((START, down), "If somebody is hurt", 3.5)
    for words in (
        "ring",
        "this place, as an ambulance finds it",
        "first-aid box; nearest hospital with casualty",
        "stop-tap; electricity off at",
    ):
        down -= 6.6
        yield Text(at=(START, down), words=words, height=2.3)
        yield ruled((START + 72.0, down - 0.8), (START + room, down - 0.8))


def _row(works: Works, stage: StageOfWork, height: Millimetres, lefts: list[float], top: Millimetres) -> Iterator[Mark]:
    for column, (at, cell) in enumerate(zip(lefts, _cells(works, stage, height), strict=False)):
        base = top - 1.4
        for place, lines in enumerate(cell):
            big = column == 0 and place == 0
            size = height + 0.6 if big else height
            for line in lines:
                base -= _drop(size)
                yield Text(
                    at=(at + 2.0, base + 0.25 * size),
                    words=line,
                    height=size,
                    weight=_weight(column, place),
                )
            base -= 0.8


def _deciders(design: Design) -> list[tuple[str, ...]]:
    """What is decided, by whom, and their name and telephone as far as the job tells; the rest is written in."""
    title, trees = design.job.title, bool(design.surroundings.circles)
    builder, electrician, trees_by = (_person(design, *trades) for trades in TRADES)
    return [
        ("levels, sizes, changes to the drawings", f"who drew it: {title.drawn_by}"),
        ("access, who may be on site, children kept away", f"client: {title.client}"),
        ("who leads the work on site, and stops it", "site lead", *builder),
        ("sides of pit and trenches, each shift and after rain", "competent person for the dig"),
        ("where pipes and cables lie", "whoever traces them; their owners"),
        *([("work inside root circles", "tree officer; arboriculturist", *trees_by)] if trees else []),
        ("lifts by machine: chart, slings, signals", "whoever plans the lifts; banksman"),
        ("supply, protection, testing, certificate", "licensed electrician", *electrician),
        ("cover, lid and fence every evening", "the last to leave"),
        ("water running, handing over", "whoever hands over; the owner", *builder),
    ]


def _person(design: Design, *trades: str) -> tuple[str, ...]:
    """Name and telephone of the first person of the job with one of these trades; nothing where there is none."""
    found = [each for each in design.job.people if each.trade.lower() in trades]
    return (found[0].name, found[0].telephone) if found else ()


def _signed(design: Design) -> Iterator[Mark]:
    yield heading((START, TOP - 9.0), "Who decides what", 5.0)
    widths = (104.0, 84.0, 62.0, 44.0, 52.0, 32.0)
    heads = ("what", "by whom", "name", "telephone", "signature", "date")
    down = yield from _form(TOP - 14.0, widths, heads, _deciders(design), 8.6)
    yield heading(
        (START, down - 11.0), "Pit and trenches looked at: before each shift, after rain, after any fall", 5.0
    )
    widths, heads = (
        (32.0, 32.0, 52.0, 164.0, 62.0, 36.0),
        ("date", "time", "weather", "seen, and done", "by whom", "next look"),
    )
    left = (down - 16.0 - 7.0) - (LOW + TITLE_HIGH + 6.0)
    rows = max(min(LOG_ROWS, int(left // 8.2)), 0)
    yield from _form(down - 16.0, widths, heads, [()] * rows, 8.2)
    said = paragraph((START, LOW + TITLE_HIGH - 3.0), SOURCES, RIGHT - TITLE_WIDE - START - 6.0, 2.0)
    yield from said


def _form(
    top: Millimetres,
    widths: Sequence[Millimetres],
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    step: Millimetres,
) -> Generator[Mark, None, Millimetres]:
    """Rows to be filled in by hand; gives back where they end."""
    lefts = [START + sum(widths[:column]) for column in range(len(widths) + 1)]
    down = top - 6.0
    yield ruled((START, top), (lefts[-1], top))
    for at, wide, words in zip(lefts, widths, heads, strict=False):
        yield fitted((at + 1.5, down + 1.8), words, wide - 3.0, 2.3, weight=600)
    yield ruled((START, down), (lefts[-1], down), pens.MEDIUM)
    for row in rows:
        down -= step
        for at, wide, words in zip(lefts, widths, row, strict=False):
            yield fitted((at + 1.5, down + step * 0.32), words, wide - 3.0, 2.5)
        yield ruled((START, down), (lefts[-1], down))
    for at in lefts:
        yield ruled((at, top), (at, down))
    return down
