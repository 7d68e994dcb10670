"""The set of sheets as its parts, in the order it is bound: what lies where, is dug, laid, wired, paid, worked out."""

from collections.abc import Callable, Iterator

from beckwright.compose import Design, Works
from beckwright.film import all_findings, film_findings, film_set
from beckwright.papers.drawing import Sheet
from beckwright.papers.sheets.calculation import calculation_pages, calculation_sheets
from beckwright.papers.sheets.dig import dig_count, dig_sheets
from beckwright.papers.sheets.electrics import electrics_count, electrics_sheets
from beckwright.papers.sheets.film import film_sheet
from beckwright.papers.sheets.ground import ground_sheet
from beckwright.papers.sheets.lining import lining_count, lining_sheets
from beckwright.papers.sheets.money import estimate_pages, estimate_sheets
from beckwright.papers.sheets.order import order_pages, order_sheets
from beckwright.papers.sheets.pairs import pairs_sheet
from beckwright.papers.sheets.plan import plan_sheets, plan_windows
from beckwright.papers.sheets.planting import planting_pages, planting_sheets
from beckwright.papers.sheets.programme import programme_sheet
from beckwright.papers.sheets.quote import quote_count, quote_sheets
from beckwright.papers.sheets.reservoir import reservoir_sheet
from beckwright.papers.sheets.running import running_sheet
from beckwright.papers.sheets.sections import section_count, section_sheets
from beckwright.papers.sheets.setting_out import setting_out_count, setting_out_sheets
from beckwright.papers.sheets.story import story_sheet

Part = tuple[int, Callable[[int, int], tuple[Sheet, ...]]]
"""How many sheets, and what draws them once it is known which is the first, of how many."""


def parts_of(design: Design, works: Works) -> tuple[Part, ...]:
    """All parts; those that have nothing to show have no sheets."""
    return (
        *_design_parts(design, works),
        *_ground_parts(design, works),
        *_laid_parts(design, works),
        *_money_parts(design, works),
        _calculation_part(design, works),
    )


def _one(draw: Callable[[int, int], Sheet]) -> Part:
    return 1, lambda first, of: (draw(first, of),)


def _design_parts(design: Design, works: Works) -> Iterator[Part]:
    films = film_set(design)
    told = film_findings(design, films)
    findings = all_findings(design, told, works)
    yield len(plan_windows(design)), lambda first, of: plan_sheets(design, findings, first, of)
    yield _one(lambda first, of: ground_sheet(design, works, first, of))
    yield _one(lambda first, of: story_sheet(design, first, of))
    yield _one(lambda first, of: film_sheet(design, films, first, of, told))


def _ground_parts(design: Design, works: Works) -> Iterator[Part]:
    dug, pegs = works.groundwork, works.setting_out
    yield dig_count(pegs), lambda first, of: dig_sheets(design, dug, pegs, first, of)
    yield setting_out_count(pegs), lambda first, of: setting_out_sheets(design, dug, pegs, first, of)
    yield section_count(design, dug, pegs), lambda first, of: section_sheets(design, dug, pegs, first, of)


def _laid_parts(design: Design, works: Works) -> Iterator[Part]:
    lining, planting, electrics, programme = works.lining, works.planting, works.electrics, works.programme
    yield _one(lambda first, of: reservoir_sheet(design, works, first, of))
    yield lining_count(lining), lambda first, of: lining_sheets(design, lining, first, of)
    if electrics is not None:
        yield electrics_count(electrics), lambda first, of: electrics_sheets(design, electrics, first, of)
    yield planting_pages(design, planting), lambda first, of: planting_sheets(design, planting, first, of)
    if programme is not None:
        yield _one(lambda first, of: programme_sheet(design, programme, first, of))


def _money_parts(design: Design, works: Works) -> Iterator[Part]:
    estimate, variations, running = works.estimate, works.variations, works.running
    yield len(order_pages(estimate)), lambda first, of: order_sheets(design, estimate, first, of)
    yield len(estimate_pages(estimate)), lambda first, of: estimate_sheets(design, estimate, first, of)
    if variations is not None:
        yield quote_count(variations), lambda first, of: quote_sheets(design, variations, first, of)
    if running is not None:
        yield _one(lambda first, of: running_sheet(design, running, first, of))
    yield _one(lambda first, of: pairs_sheet(design, works.lives, first, of))


def _calculation_part(design: Design, works: Works) -> Part:
    pages = calculation_pages(design, works)
    return len(pages), lambda first, of: calculation_sheets(design, pages, first, of)
