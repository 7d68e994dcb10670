"""The set of sheets as its parts, in the order it is bound: what lies where, is dug, laid, wired, paid, worked out.

A part is one row of ``PARTS``: to add one, write its sheets in ``sheets/`` and its row here, with its readers. A part
no reader named wants is not drawn, nor is anything slow worked out for it; how many sheets it has is always asked, for
sheets carry the numbers of the whole set.
"""

from collections.abc import Callable, Collection
from functools import cached_property
from typing import NamedTuple

from beckwright.base.findings import Finding
from beckwright.beside import Asked, Beside
from beckwright.care import CareTask, Normal, care_tasks, drops, normal
from beckwright.compose import Design, Works
from beckwright.film import all_findings
from beckwright.papers.drawing import Sheet
from beckwright.papers.filmed import Filmed, filmed
from beckwright.papers.readers import (
    CHECKER,
    CLIENT,
    CREW,
    DRIVER,
    ELECTRICIAN,
    NEXT_CONTRACTOR,
    OWNER,
    SUPPLIER,
    TREE_OFFICER,
    WHOLE,
    Reader,
)
from beckwright.papers.seen import Seen, of_job
from beckwright.papers.sheets.as_built.sheet import AsBuiltPages, as_built_pages, as_built_sheets
from beckwright.papers.sheets.build.lip_cards import lip_card_count, lip_card_sheets
from beckwright.papers.sheets.build.sheet import BuildPages, build_pages, build_sheets
from beckwright.papers.sheets.ground.dig import dig_count, dig_sheets
from beckwright.papers.sheets.ground.sections import section_count, section_sheets
from beckwright.papers.sheets.ground.setting_out import setting_out_count, setting_out_sheets
from beckwright.papers.sheets.ground.sheet import ground_sheet
from beckwright.papers.sheets.lining.sheet import lining_count, lining_sheets
from beckwright.papers.sheets.method.sheet import MethodPage, method_pages, method_sheets
from beckwright.papers.sheets.money.estimate import estimate_pages, estimate_sheets
from beckwright.papers.sheets.money.order import order_pages, order_sheets
from beckwright.papers.sheets.money.quote import quote_count, quote_sheets
from beckwright.papers.sheets.money.running import running_sheet
from beckwright.papers.sheets.overview.calculation import Page, calculation_pages, calculation_sheets
from beckwright.papers.sheets.overview.film import film_sheet
from beckwright.papers.sheets.overview.plan import plan_sheets, plan_windows
from beckwright.papers.sheets.overview.programme import programme_sheet
from beckwright.papers.sheets.overview.story import story_sheet
from beckwright.papers.sheets.owner.care_card import care_card
from beckwright.papers.sheets.owner.sheet import PAGES as OWNER_PAGES
from beckwright.papers.sheets.owner.sheet import owner_sheets
from beckwright.papers.sheets.picture.sheet import picture_sheet
from beckwright.papers.sheets.planting.sheet import planting_pages, planting_sheets
from beckwright.papers.sheets.reservoir.sheet import reservoir_sheet
from beckwright.papers.sheets.supply.pairs import pairs_sheet
from beckwright.papers.sheets.supply.sheet import electrics_count, electrics_sheets
from beckwright.papers.sheets.trees.sheet import tree_pages, tree_sheets


class Matter:
    """What the sheets are drawn from, and what several parts share: worked out once, when first asked for.

    beside  where the films are worked out, so that the other sheets are drawn meanwhile
    seen    what came back from site; what the job itself carries of it where nobody looked
    """

    def __init__(self, design: Design, works: Works, beside: Beside, seen: Seen | None = None) -> None:
        self.design, self.works, self.beside = design, works, beside
        self.seen = of_job(design) if seen is None else seen

    @cached_property
    def filming(self) -> Asked[Filmed]:
        """The films, under way: seconds of work."""
        return self.beside.ask(filmed, self.design, care=drops(self.design, self.works).flow)

    @cached_property
    def films(self) -> Filmed:
        """The films, and what they show."""
        return self.filming.result()

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, those of the films among them."""
        return all_findings(self.design, self.films.findings, self.works)

    @cached_property
    def usual(self) -> Normal:
        """What is normal for its owner."""
        return normal(self.design, self.works, self.films.care)

    @cached_property
    def tasks(self) -> tuple[CareTask, ...]:
        """What the owner looks after, and when."""
        return care_tasks(self.design, self.works, self.usual)

    @cached_property
    def method(self) -> tuple[MethodPage, ...]:
        """The pages of the method sheet."""
        return method_pages(self.design, self.works)

    @cached_property
    def building(self) -> BuildPages:
        """The pages of the build sheet."""
        return build_pages(self.design, self.works)

    @cached_property
    def built(self) -> AsBuiltPages:
        """The pages of the as-built sheets."""
        return as_built_pages(self.works, self.seen)

    @cached_property
    def pages(self) -> list[Page]:
        """The pages of the calculation."""
        return calculation_pages(self.design, self.works)


class Part(NamedTuple):
    """Sheets that belong together.

    name     what it is called
    readers  whose it is; everything is the whole set's as well
    count    how many sheets; 0 where there is nothing to show. Quick: it is asked even where nobody reads the part
    draw     them, from what they are drawn from, the number of the first, and how many sheets the set has
    films    whether it tells what the films show: such a part is drawn last, for the films take seconds
    """

    name: str
    readers: tuple[Reader, ...]
    count: Callable[[Matter], int]
    draw: Callable[[Matter, int, int], tuple[Sheet, ...]]
    films: bool = False


def _plans(job: Matter, first: int, of: int) -> tuple[Sheet, ...]:
    return plan_sheets(job.design, job.findings, first, of)


def _films(job: Matter, first: int, of: int) -> tuple[Sheet, ...]:
    return (film_sheet(job.design, job.films, first, of),)


def _electrics_count(job: Matter) -> int:
    return 0 if job.works.electrics is None else electrics_count(job.works.electrics)


def _electrics(job: Matter, first: int, of: int) -> tuple[Sheet, ...]:
    return () if job.works.electrics is None else electrics_sheets(job.design, job.works.electrics, first, of)


def _programme(job: Matter, first: int, of: int) -> tuple[Sheet, ...]:
    return () if job.works.programme is None else (programme_sheet(job.design, job.works.programme, first, of),)


def _quote_count(job: Matter) -> int:
    return 0 if job.works.variations is None else quote_count(job.works.variations)


def _quote(job: Matter, first: int, of: int) -> tuple[Sheet, ...]:
    return () if job.works.variations is None else quote_sheets(job.design, job.works.variations, first, of)


def _running(job: Matter, first: int, of: int) -> tuple[Sheet, ...]:
    return () if job.works.running is None else (running_sheet(job.design, job.works.running, first, of),)


SITE = (CLIENT, CREW, ELECTRICIAN, TREE_OFFICER, NEXT_CONTRACTOR, CHECKER)
"""Who finds the way by the plan. The driver has one with pegs and heaps on it instead: it waits for no film."""

# fmt: off
PARTS: tuple[Part, ...] = (
    Part("plan", SITE,
         lambda job: len(plan_windows(job.design)), _plans, films=True),
    Part("picture", (CLIENT,),
         lambda _: 1, lambda job, first, of: (picture_sheet(job.design, job.works, first, of),)),
    Part("ground", (DRIVER, CREW, TREE_OFFICER, CHECKER),
         lambda _: 1, lambda job, first, of: (ground_sheet(job.design, job.works, first, of),)),
    Part("level story", (CLIENT, CREW, NEXT_CONTRACTOR, CHECKER),
         lambda _: 1, lambda job, first, of: (story_sheet(job.design, first, of),)),
    Part("start and stop", (OWNER, CHECKER),
         lambda _: 1, _films, films=True),
    Part("method and hazards", SITE,
         lambda job: len(job.method),
         lambda job, first, of: method_sheets(job.design, job.works, job.method, first, of)),
    Part("trees", (TREE_OFFICER, DRIVER, CREW),
         lambda job: len(tree_pages(job.design)),
         lambda job, first, of: tree_sheets(job.design, job.works, first, of)),
    Part("dig", (DRIVER, CREW),
         lambda job: dig_count(job.works.setting_out),
         lambda job, first, of: dig_sheets(job.design, job.works.groundwork, job.works.setting_out, first, of)),
    Part("setting out", (CREW, NEXT_CONTRACTOR),
         lambda job: setting_out_count(job.works.setting_out),
         lambda job, first, of: setting_out_sheets(job.design, job.works.groundwork, job.works.setting_out, first, of)),
    Part("sections", (DRIVER, CREW, TREE_OFFICER, CHECKER),
         lambda job: section_count(job.design, job.works.groundwork, job.works.setting_out),
         lambda job, first, of: section_sheets(job.design, job.works.groundwork, job.works.setting_out, first, of)),
    Part("reservoir", (CREW, OWNER, NEXT_CONTRACTOR, CHECKER),
         lambda _: 1, lambda job, first, of: (reservoir_sheet(job.design, job.works, first, of),)),
    Part("lining", (CREW, NEXT_CONTRACTOR),
         lambda job: lining_count(job.works.lining),
         lambda job, first, of: lining_sheets(job.design, job.works.lining, first, of)),
    Part("build", (CREW,),
         lambda job: job.building.count,
         lambda job, first, of: build_sheets(job.design, job.works, first, of, job.building)),
    Part("lip cards", (CREW,),
         lambda job: lip_card_count(job.design),
         lambda job, first, of: lip_card_sheets(job.design, job.works, first, of)),
    Part("supply", (ELECTRICIAN, CREW, NEXT_CONTRACTOR), _electrics_count, _electrics),
    Part("planting", (CLIENT, CREW, OWNER),
         lambda job: planting_pages(job.design, job.works.planting),
         lambda job, first, of: planting_sheets(job.design, job.works.planting, first, of)),
    Part("programme", (CLIENT, CREW), lambda job: job.works.programme is not None, _programme),
    Part("order", (SUPPLIER,),
         lambda job: len(order_pages(job.works.estimate)),
         lambda job, first, of: order_sheets(job.design, job.works.estimate, first, of, job.works)),
    Part("estimate", (CLIENT,),
         lambda job: len(estimate_pages(job.works.estimate)),
         lambda job, first, of: estimate_sheets(job.design, job.works.estimate, first, of)),
    Part("since the quote", (CLIENT,), _quote_count, _quote),
    Part("running cost", (CLIENT, OWNER), lambda job: job.works.running is not None, _running),
    Part("pump and hose", (SUPPLIER, CHECKER),
         lambda _: 1, lambda job, first, of: (pairs_sheet(job.design, job.works.lives, first, of),)),
    Part("care card", (OWNER,),
         lambda _: 1, lambda job, first, of: (care_card(job.design, job.usual, job.tasks, first, of),), films=True),
    Part("owner's pages", (OWNER, NEXT_CONTRACTOR),
         lambda _: OWNER_PAGES,
         lambda job, first, of: owner_sheets(job.design, job.usual, job.tasks, first, of), films=True),
    Part("as built", (NEXT_CONTRACTOR, OWNER, CREW),
         lambda job: job.built.count,
         lambda job, first, of: as_built_sheets(job.design, job.works, job.built, first, of)),
    Part("calculation", (CHECKER,),
         lambda job: len(job.pages), lambda job, first, of: calculation_sheets(job.design, job.pages, first, of)),
)
"""The set, in the order it is bound, after its index."""
# fmt: on


def wanted(part: Part, readers: Collection[Reader]) -> bool:
    """Whether one of these readers reads it. Everybody's where none is named."""
    return not readers or WHOLE in readers or any(reader in readers for reader in part.readers)


def names_of(readers: Collection[Reader]) -> frozenset[str]:
    """Names of the parts these readers read."""
    return frozenset(part.name for part in PARTS if wanted(part, readers))
