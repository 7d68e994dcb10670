"""Whose page asks: what was made for one job is never brought to another that lies open at the same address."""

from collections.abc import Awaitable, Callable

from fastapi import Request

from beckwright.base.errors import Problem
from beckwright.site import Keeper

HEADER = "x-beckwright-job"
"""What a page says with whatever it asks: the word of the job it was opened for."""


class OtherJob(Exception):  # noqa: N818  # Nothing went wrong: it waits until its own job lies open again.
    """A page of another job asked."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(name)

    @property
    def problem(self) -> Problem:
        """The same as a person is told it."""
        return Problem(
            place="this page",
            found=f"Another job is open on the laptop now: {self.name}",
            rule="A page answers for the job it was opened for, and what it changes waits for that job",
            remedy="Open its job again, or load this page again to go on with the other one",
        )


def own_pages(keeper: Keeper) -> Callable[[Request], Awaitable[None]]:
    """What lets a job's own pages through, and whoever is no page; others raise ``OtherJob``."""

    async def check(request: Request) -> None:
        if request.headers.get(HEADER, keeper.job) != keeper.job:
            raise OtherJob(keeper.folder.resolve().name)

    return check
