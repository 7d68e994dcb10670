"""The whole job in the order it is worked: a table of contents."""

from dataclasses import replace
from functools import cached_property

from beckwright.base.findings import Finding
from beckwright.base.items import Item
from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse, set_out_course
from beckwright.stages.crates import ChamberFit, CrateLayout, fit_chamber, lay_crates
from beckwright.stages.crates.items import crate_items
from beckwright.stages.earthworks import Groundwork, dig, level_that_balances
from beckwright.stages.earthworks.items import earthworks_items
from beckwright.stages.electrics import Electrics, wire
from beckwright.stages.electrics.items import electrics_items
from beckwright.stages.falls import Fall, fall_water
from beckwright.stages.findings import find, ground_work_findings
from beckwright.stages.findings.crates import chamber_findings, crate_findings
from beckwright.stages.findings.electrics import electrics_findings
from beckwright.stages.findings.lining import lining_findings
from beckwright.stages.findings.money import money_findings
from beckwright.stages.findings.planting import planting_findings
from beckwright.stages.findings.programme import programme_findings
from beckwright.stages.findings.season import season_findings
from beckwright.stages.findings.stonework import stonework_findings
from beckwright.stages.ground import Ground, build_ground
from beckwright.stages.levels import Budget, Freeboard, freeboard, tolerance_budget
from beckwright.stages.lining import Lining, line, lining_items
from beckwright.stages.money import (
    Estimate,
    LifeCost,
    RunningCost,
    Variations,
    compare_with_quote,
    price,
    running_cost,
    whole_life,
)
from beckwright.stages.planting import Planting, plant, planting_items
from beckwright.stages.programme import Programme, make_programme, own_tasks, tasks_for
from beckwright.stages.reservoir import FilledReservoir, fill_reservoir
from beckwright.stages.season import Season, go_through_year
from beckwright.stages.setting_out import SettingOut, set_out
from beckwright.stages.stones import Blocked, Stability, blocked, stone_stability
from beckwright.stages.stonework import Stonework, take_off_stone
from beckwright.stages.stonework.items import stonework_items
from beckwright.stages.supply import Supply, flat_out_flow, supply_water
from beckwright.stages.supply.items import supply_items
from beckwright.stages.surroundings import CloserLook, Surroundings, look_around, look_closer
from beckwright.stages.water import Water, run_water


@value
class Design:
    """Everything worked out for one job. A changed job gives a new design; nothing here changes.

    water     at the flows the designer named
    flat_out  at the flow the chosen pump gives with nothing held back, for somebody will try it; no flow where it
              cannot lift the water
    """

    job: Job
    ground: Ground
    course: SetOutCourse
    water: Water
    flat_out: Water
    freeboard: Freeboard
    flat_out_freeboard: Freeboard
    budget: Budget
    falls: tuple[Fall, ...]
    flat_out_falls: tuple[Fall, ...]
    stability: Stability
    plants: tuple[Blocked, ...]
    reservoir: FilledReservoir
    supply: Supply
    surroundings: Surroundings
    findings: tuple[Finding, ...]


def design(job: Job, ground: Ground | None = None) -> Design:
    """Design a job. ``ground`` may be handed over where the survey has not changed: it is the slow part."""
    ground = build_ground(job.survey) if ground is None else ground
    course = set_out_course(job.course, job.source, job.layers, ground, job.site.topsoil)
    water = run_water(course, job.source, job.flows, job.water_temperature)
    board = freeboard(course, water, job.course.freeboard_wanted)
    budget = tolerance_budget(job, course)
    falls = fall_water(course, water)
    reservoir = fill_reservoir(job, ground, water)
    supply = supply_water(job, reservoir)
    flat_out = run_water(course, job.source, flat_out_flow(supply), job.water_temperature)
    flat_out_board = freeboard(course, flat_out, job.course.freeboard_wanted)
    flat_out_falls = fall_water(course, flat_out)
    stability = stone_stability(job, course, (water, flat_out), (falls, flat_out_falls))
    plants = blocked(course, water)
    around = look_around(job, course)
    return Design(
        job=job,
        ground=ground,
        course=course,
        water=water,
        flat_out=flat_out,
        freeboard=board,
        flat_out_freeboard=flat_out_board,
        budget=budget,
        falls=falls,
        flat_out_falls=flat_out_falls,
        stability=stability,
        plants=plants,
        reservoir=reservoir,
        supply=supply,
        surroundings=around,
        findings=find(
            job,
            course,
            (water, flat_out),
            (board, flat_out_board),
            budget,
            falls,
            stability,
            plants,
            reservoir,
            supply,
            around,
        ),
    )


class Works:
    """What follows from a design once its levels stand: each part worked out when it is first asked for, then kept.

    Nobody waits for any of it while a point is dragged; whoever asks for one part does not wait for the others.
    """

    def __init__(self, designed: Design) -> None:
        self.design = designed

    @cached_property
    def closer(self) -> CloserLook:
        """What only the ground itself can tell: footings, ways of water, where the survey is thin."""
        return look_closer(self.design.job, self.design.ground, self.design.course)

    @cached_property
    def dug(self) -> Groundwork:
        """The ground work, without the level that would balance it."""
        each = self.design
        return dig(each.job, each.course, each.ground, each.reservoir.pit, each.surroundings)

    @cached_property
    def groundwork(self) -> Groundwork:
        """All of the ground work."""
        each = self.design
        raised = level_that_balances(each.job, each.course, each.ground, each.reservoir.pit, self.dug)
        return replace(self.dug, raised=raised)

    @cached_property
    def setting_out(self) -> SettingOut:
        """Pegs, pit corners and levels."""
        each = self.design
        return set_out(each.job, each.course, each.ground, each.surroundings, self.groundwork)

    @cached_property
    def lining(self) -> Lining:
        """The lining and how it is cut."""
        each = self.design
        return line(each.job, each.course, each.water, each.falls, each.reservoir.pit)

    @cached_property
    def stonework(self) -> Stonework:
        """Stone by class, and who lifts it."""
        each = self.design
        return take_off_stone(each.job, each.course, each.stability, each.falls)

    @cached_property
    def crates(self) -> CrateLayout | None:
        """Whole crates in the pit; None where something else fills it."""
        return lay_crates(self.design.job, self.design.reservoir)

    @cached_property
    def chamber(self) -> ChamberFit:
        """The chamber the pump is lifted out of."""
        return fit_chamber(self.design.job, self.design.stability)

    @cached_property
    def planting(self) -> Planting:
        """Pockets and what grows in them."""
        each = self.design
        return plant(each.job, each.course, each.ground, each.water)

    @cached_property
    def electrics(self) -> Electrics | None:
        """Supply, lights and who sees them; None where the job says nothing of them."""
        each = self.design
        return wire(each.job, each.course, each.ground, each.supply)

    @cached_property
    def season(self) -> Season | None:
        """A year of water; None without a climate table."""
        each = self.design
        return go_through_year(each.job, each.course, each.water, each.reservoir, each.supply)

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """Everything to be bought, dug or laid, each with the drawing it was read off."""
        each, job = self.design, self.design.job
        return (
            *earthworks_items(self.dug, job.earthworks.load),
            *lining_items(job, self.lining),
            *crate_items(job, self.crates, self.chamber, each.reservoir),
            *stonework_items(job, self.stonework),
            *supply_items(job, each.supply),
            *(electrics_items(job.electrics, self.electrics) if job.electrics and self.electrics else ()),
            *planting_items(self.planting),
        )

    @cached_property
    def programme(self) -> Programme | None:
        """What when; None where nobody said when it begins."""
        force, pegs = self.design.job.force, len(self.setting_out.pegs)
        return make_programme(own_tasks(tasks_for(self.items, force, pegs), self.design.job.own_tasks), force)

    @cached_property
    def estimate(self) -> Estimate:
        """What building it costs."""
        return price(self.design.job, self.items, self.programme)

    @cached_property
    def variations(self) -> Variations | None:
        """What changed since the quote; None where nothing was quoted."""
        job = self.design.job
        return compare_with_quote(job.quote, job.money, self.estimate)

    @cached_property
    def lives(self) -> tuple[LifeCost, ...]:
        """Every pump with every hose over the years, the cheapest first."""
        return whole_life(self.design.job, self.design.supply)

    @cached_property
    def running(self) -> RunningCost | None:
        """What running it costs a year, hose by hose; None where nobody gave a price or hours."""
        return running_cost(self.design.job, self.design.reservoir)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Findings of everything here, the heaviest first."""
        each, job = self.design, self.design.job
        found = (
            *ground_work_findings(job, each.course, each.surroundings, self.closer, self.groundwork, self.setting_out),
            *lining_findings(job, self.lining),
            *stonework_findings(job, self.stonework),
            *(crate_findings(job, self.crates) if self.crates else ()),
            *chamber_findings(job, self.chamber),
            *electrics_findings(job, each.supply, self.electrics),
            *planting_findings(job, self.planting),
            *programme_findings(self.programme),
            *season_findings(job, each.reservoir, self.season),
            *money_findings(job, self.estimate, self.lives, self.variations),
        )
        return tuple(sorted(found, key=lambda finding: -finding.severity))
