"""One sketch through the whole engine: what is told of it, in SI."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from beckwright.base.errors import Problem
from beckwright.base.items import Item
from beckwright.compose import Works, design
from beckwright.equations.energy import energy_used
from beckwright.equations.pump import hydraulic_power, total_head
from beckwright.equations.water import water_viscosity
from beckwright.job.model import Job
from beckwright.job.read import read_job_text
from beckwright.stages.course import set_out_course
from beckwright.stages.ground import Ground, build_ground
from beckwright.stages.programme.tasks import tasks_for
from beckwright.stages.supply import lay
from beckwright.stages.water import run_water
from beckwright.visit.sketch import Sketch, pit_for, water_wanted
from beckwright.visit.tables import hose_line, hose_of, pit_centre, pump_of, survey_of
from beckwright.visit.text import job_toml
from beckwright.visit.values import Visit

HIGH = 2
"""The deep end of the band: what is lent to the stream is told by it."""
NOWHERE = Path()
STONE = ("stone.edge", "stone.bed", "stone.cover", "stone.lip_mass", "stone.cheek")
ANY_DAY = date(2026, 1, 1)
Outcome = Mapping[str, float]
"""By the keys of the answers."""


class Made:
    """A sketch with its pit sized and designed; what the crew and the pump make of it is worked out when asked."""

    def __init__(self, sketch: Sketch, visit: Visit) -> None:
        self.visit = visit
        job, ground, self.sketch = sized(sketch, visit)
        self.design = design(job, ground)
        works = Works(self.design)
        self.dug = sum(part.cut for part in works.dug.parts if part.kind == "pit")
        self.items = works.items
        at = self.design
        self.pegs = int(at.course.length) + len(at.course.stretches) + 1

    def told(self, sketch: Sketch) -> Outcome:
        """What is told; of ``sketch`` only what needs no design: pump, hours, pace and machine."""
        water, filled = self.design.water, self.design.reservoir
        flow = float(water.flows[0])
        head = self._head()
        power = hydraulic_power(flow, head) / sketch.pump
        energy = energy_used(power, sketch.hours * 3600)
        days, wait, digger = self._days(sketch)
        stone, lining, crates = (
            self._amount(*keys) for keys in (STONE, ("lining.course", "lining.pit"), ("crates.volume",))
        )
        told = {
            "flow": flow,
            "fill": filled.pit.held(filled.pit.rested) + float(filled.kept.max()),
            "holds": filled.pit.held(filled.pit.rested),
            "moves": float(filled.lent[HIGH].max()),
            "dug": self.dug,
            "head": head,
            "power": power,
            "energy": energy,
            "days": days,
            "waiting": wait,
            "stone": stone,
            "lining": lining,
        }
        parts = {"stone": stone / 1000, "lining": lining, "crates": crates, "day": days * 2, "digger": digger}
        prices = self.visit.prices
        priced = [amount * price for name, amount in parts.items() if (price := prices.of(name)) is not None]
        if priced:
            told["build"] = sum(priced)
        if (tariff := prices.of("energy")) is not None:
            told["running"] = energy / 3.6e6 * tariff
        return told

    def _head(self) -> float:
        job, supply = self.design.job, self.design.supply.chosen.flows[0]
        laid = lay(job.route.chosen, job.route, water_viscosity(job.water_temperature))
        lost = laid.losses_at(supply.wanted)
        return total_head(supply.lift, lost.along, lost.fittings)

    def _amount(self, *keys: str) -> float:
        return sum(item.amount for item in self.items if _begins(item, keys))

    def _days(self, sketch: Sketch) -> tuple[float, float, float]:
        """Days of work one after another, days of waiting, days of a digger."""
        force = replace(self.design.job.force, machine=sketch.machine)
        work = wait = digger = 0.0
        for task in tasks_for(self.items, force, self.pegs):
            fast, slow = 1 - 2 * min(sketch.pace, 0.5), 2 * max(sketch.pace, 0.5) - 1
            days = task.likely + fast * (task.shortest - task.likely) + slow * (task.longest - task.likely)
            work += 0.0 if task.crew == "nobody" else days
            wait += days if task.crew == "nobody" else 0.0
            digger += days if task.crew == "digger" else 0.0
        return work, wait, digger


def _begins(item: Item, keys: tuple[str, ...]) -> bool:
    return any(item.key == key or item.key.startswith(f"{key}.") for key in keys)


def sized(sketch: Sketch, visit: Visit) -> tuple[Job, Ground, Sketch]:
    """The same with a pit that holds what the stream wants. The water in the stream does not hang on the pit."""
    job = job_of(sketch, visit)
    ground = build_ground(job.survey)
    course = set_out_course(job.course, job.source, job.layers, ground, job.site.topsoil)
    water = run_water(course, job.source, job.flows, job.water_temperature)
    in_motion = float(water.stored.in_motion[HIGH].max())
    sketch = replace(sketch, pit=pit_for(water_wanted(sketch, in_motion, water.wet_area)))
    length, width = sketch.pit
    pit = replace(job.reservoir, length=length, width=width, centre=pit_centre(sketch))
    return replace(job, reservoir=pit, route=replace(job.route, line=hose_line(sketch))), ground, sketch


def job_of(sketch: Sketch, visit: Visit) -> Job:
    """The job its files make, without writing them."""
    text = job_toml(sketch, visit, title="Sketch", day=ANY_DAY)
    tables = {"survey.csv": survey_of(sketch), "hoses.csv": (hose_of(sketch),), "pumps.csv": (pump_of(sketch),)}

    def take(read: Any, path: Path, problems: list[Problem], *told: str) -> Any:
        return tables.get(path.name)

    return read_job_text(text, NOWHERE, take)
