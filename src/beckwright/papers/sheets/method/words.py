"""What the method sheet says stage by stage: the numbers of this job, the orders, and whose word it waits for."""

from beckwright.base.words import share
from beckwright.compose import Design, Works
from beckwright.papers.sheets.method.ground import course, pit, ready
from beckwright.papers.sheets.method.laid import lining, stone
from beckwright.papers.sheets.method.stage import StageOfWork
from beckwright.papers.sheets.method.water import children, electrics, water


def stages_of_work(design: Design, works: Works) -> tuple[StageOfWork, ...]:
    """Every stage in the order of the work, then what holds on every day."""
    return (
        ready(design, works),
        pit(design, works),
        course(design, works),
        lining(design, works),
        stone(design, works),
        electrics(design, works),
        water(design),
        children(design, works),
        weather(design, works),
    )


def weather(design: Design, works: Works) -> StageOfWork:
    """What stops in bad weather."""
    numbers = []
    if works.programme is not None:
        stops = [dated.task.name for dated in works.programme.tasks if dated.task.weather]
        numbers += [f"Stops in bad weather: {', '.join(stops)}."] if stops else []
        numbers.append(f"{share(design.job.force.lost)} of working days are counted as lost to it.")
    numbers += [f"Seen in rain: {each.name}." for each in design.job.site.runoff]
    return StageOfWork(
        name="Weather",
        tasks=(),
        numbers=tuple(numbers) or ("No programme: the job names no first day.",),
        orders=(
            (
                "Rain: everybody out of the pit, slopes sheeted, pump in the sump; the competent person looks before "
                "anybody goes back. Thunder: off the slope, off the machine."
            ),
            "Wind: no sheet, no lift. Frost: no mortar, foam or digging among roots. Heat: water, shade, early start.",
        ),
        decides="whoever leads on site",
    )
