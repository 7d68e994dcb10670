"""Hand calculations of what evaporates, where no worked example is at hand."""

import pytest

from beckwright.equations.evaporation import small_water_evaporation


def test_a_square_metre_in_a_light_wind() -> None:
    # 3.623 x 1**-0.066 x 1.0 m/s x 1.0 kPa = 3.623 mm a day.
    assert small_water_evaporation(1.0, 1.0, 1000.0) * 86400e3 == pytest.approx(3.623)
    # Twenty-five square metres: 25**-0.066 = 0.8086, so 2.930 mm a day.
    assert small_water_evaporation(25.0, 1.0, 1000.0) * 86400e3 == pytest.approx(2.930, abs=0.001)
