"""The year, from as written to the job's terms."""

from beckwright.job.model import SeasonWork
from beckwright.job.units import LITRE, LITRE_PER_HOUR, PERCENT
from beckwright.job.written import Written


def season_from(written: Written) -> SeasonWork:
    """When it runs, and what fills it up again."""
    given = written.season
    return SeasonWork(
        first=given.first_month,
        last=given.last_month,
        splash=_of(given.splash_percent, PERCENT),
        roof=given.roof_m2,
        tank=given.tank_litres * LITRE,
        leak_resting=_of(given.leak_resting_l_h, LITRE_PER_HOUR),
        leak_running=_of(given.leak_running_l_h, LITRE_PER_HOUR),
        wind_height=given.wind_height_m,
    )


def _of(amount: float | None, unit: float) -> float | None:
    return None if amount is None else amount * unit
