"""The section of job.toml about the year: when it runs, and where its water comes from."""

from beckwright.job.written.fields import Name, Section, metres, number, told


class SeasonWritten(Section):
    """When the stream runs, and what fills it up again. Hours and days of running stand under running."""

    first_month: int = number("month it is switched on in, January 1", "1", 1, 12, default=1)
    last_month: int = number("month it is drained in, January 1", "1", 1, 12, default=12)
    splash_percent: float | None = number(
        "flow lost at each fall, measured; left out, a wide guess is taken", "%", 0, 5, default=None
    )
    roof_m2: float = number("plan of the roof whose rain is led to the rain tank", "m2", 0, 5000, default=0.0)
    tank_litres: float = number("what the rain tank holds", "l", 0, 1e6, default=0.0)
    leak_resting_l_h: float | None = number(
        "loss measured with the pump off, evaporation taken off", "l/h", 0, 1000, default=None
    )
    leak_running_l_h: float | None = number(
        "loss measured while it runs, evaporation taken off", "l/h", 0, 1000, default=None
    )
    days: Name | None = told(
        "table of the days of one real year or of several, such as weather.csv; left out, a typical year is made from "
        "the months of climate.csv",
        default=None,
    )
    wind_height_m: float | None = metres("height over the ground at which its wind was measured", 0.5, 50, default=None)
    fill_gaps_days: int = number(
        "so many days in a row that are missing may be filled from their neighbours; 0 for none", "day", 0, 7, default=0
    )
