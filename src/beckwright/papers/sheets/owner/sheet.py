"""Four A4 pages for the owner: how it works, what is normal and when what is due, and the fault tree over two."""

from collections.abc import Iterator
from dataclasses import replace

from beckwright.care import CareTask, Normal, fault_tree
from beckwright.compose import Design
from beckwright.job.model import Job
from beckwright.papers.drawing import A4_UPRIGHT, Mark, Sheet
from beckwright.papers.sheets.owner.frame import owner_frame
from beckwright.papers.sheets.owner.tree import tree_pages
from beckwright.papers.sheets.owner.works import how_it_works
from beckwright.papers.sheets.owner.year import through_the_year

PAGES = 4
READER = "for the owner"


def owner_sheets(design: Design, normal: Normal, tasks: tuple[CareTask, ...], first: int, of: int) -> tuple[Sheet, ...]:
    """Draw the four pages."""
    trees = [fault_tree(job, normal, normal.hardest) for job in _in_fewer_words(design.job)]
    pages: list[tuple[str, str, tuple[Mark, ...]]] = [
        ("how-it-works", "How it works", tuple(how_it_works(design, normal, tasks))),
        ("through-the-year", "Through the year", tuple(through_the_year(design.job, normal, tasks))),
    ]
    pages += [
        (f"fault-tree-{page}", f"When something is wrong, {page}", marks)
        for page, marks in enumerate(tree_pages(trees), 1)
    ]
    return tuple(
        Sheet(
            name=name,
            title=f"{design.job.title.name}: {title}",
            paper=A4_UPRIGHT,
            marks=(*owner_frame(design.job, title, READER, first + place, of), *marks),
            description=f"{title}, with the numbers of {design.job.title.name}.",
        )
        for place, (name, title, marks) in enumerate(pages)
    )


def _in_fewer_words(job: Job) -> Iterator[Job]:
    """The job with names alone, for the telephones stand on the care card; then with trades alone."""
    yield replace(job, people=tuple(replace(each, telephone="") for each in job.people))
    yield replace(job, people=())
    yield replace(job, people=(), reservoir=replace(job.reservoir, overflow_to=""))
