"""Figures of care: each is what its equation gives by hand, and what the papers print is the figure."""

import numpy as np
import pytest

from beckwright.base.figures import Figure
from beckwright.base.words import millimetres
from beckwright.care import drops, numbers
from beckwright.care.told import capped
from beckwright.figures import figures_of, figures_of_works
from beckwright.figures.care import by_month, care_figures
from beckwright.stages.season import MONTHS
from tests.care.conftest import NAMES, usual, worked

JULY = 6


def _named(place: str) -> dict[str, Figure]:
    works = worked(place)
    return {each.name: each for each in care_figures(works.design.job, drops(works.design, works))}


@pytest.mark.parametrize("place", NAMES)
def test_every_working_gives_its_figure(place: str) -> None:
    named = _named(place)
    worked_out = [each for each in named.values() if each.equation is not None]
    assert len(worked_out) >= 12
    for each in worked_out:
        assert each.equation is not None
        given = {item.name: item.amount for item in each.inputs}
        assert each.equation(**given) == pytest.approx(each.amount)
    assert all(each.low <= each.amount <= each.high for each in named.values())


def test_a_dry_day_by_hand() -> None:
    """Larkspur Court, job.toml: a pit of one layer; what a dry day of July takes over plan times voids is the drop."""
    works, figure = worked("larkspur_court"), _named("larkspur_court")["care.day_down.july"]
    pit, season = works.design.job.reservoir, works.season
    assert season is not None
    assert figure.amount == pytest.approx(season.daily[1, JULY] / (pit.length * pit.width * pit.voids))


@pytest.mark.parametrize("place", NAMES)
def test_what_is_printed_is_the_figure(place: str) -> None:
    """Words of the card, the pages and the tree against the register."""
    held, named = usual(place), _named(place)
    for month, called in enumerate(MONTHS):
        said = numbers(held, month)
        for what in ("day_down", "week_down"):
            figure = named[f"care.{what}.{called.lower()}"]
            assert said[what] == capped(held, np.array([figure.low, figure.amount, figure.high]))
        if "night_most" in said:
            assert said["night_most"] == millimetres(named[f"care.night.{called.lower()}"].amount)
    assert numbers(held, JULY)["rested"] == millimetres(named["care.dip.rested"].amount)
    job = worked(place).design.job
    assert by_month(job, held, "topped_week") == pytest.approx(held.topped)


def test_they_stand_in_the_register_once() -> None:
    works = worked("hazel_bank")
    names = [each.name for each in (*figures_of(works.design), *figures_of_works(works))]
    assert len(names) == len(set(names))
    assert set(_named("hazel_bank")) <= set(names)
