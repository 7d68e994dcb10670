"""When what is typed on site is asked about: it is kept either way."""

from beckwright.base.tabled import assumed

GROSS_LEVEL = assumed(0.3, 0.2, 0.5, "m", "a level this far off its drawing is misread more often than built so")
FAR_LEVEL = assumed(50.0, 20.0, 100.0, "m", "no garden lies this far over or under its own datum")
CLOCK_AHEAD = assumed(120.0, 60.0, 300.0, "s", "clocks of telephone and laptop differ by less")
LEAST_TILT = assumed(0.5e-3, 0.5e-3, 1e-3, "m", "a lip nearer to level than this is level: no staff shows less")
