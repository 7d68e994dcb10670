"""EN 12201-2. Plastics piping systems for water supply - Polyethylene (PE) - Pipes. With ISO 11922-1, grade V.

Provenance: least walls stored (a maker's table and MS 1058 agree); greatest wall by the stored rule least + (0.1 least
+ 0.1), rounded up to 0.1 mm.
"""

from math import ceil

import pytest

from beckwright.tables.hoses import PE_PIPES

LEAST_WALLS_MM = {
    (25, 11): 2.3,
    (32, 11): 3.0,
    (40, 11): 3.7,
    (50, 11): 4.6,
    (63, 11): 5.8,
    (75, 11): 6.8,
    (90, 11): 8.2,
    (110, 11): 10.0,
    (32, 17): 2.0,
    (40, 17): 2.4,
    (50, 17): 3.0,
    (63, 17): 3.8,
    (75, 17): 4.5,
    (90, 17): 5.4,
    (110, 17): 6.6,
}


def test_every_pipe_is_checked() -> None:
    assert PE_PIPES.keys() == LEAST_WALLS_MM.keys()


@pytest.mark.parametrize(("pipe", "wall"), LEAST_WALLS_MM.items())
def test_bores(pipe: tuple[int, int], wall: float) -> None:
    outside = pipe[0]
    greatest = ceil(round((wall + 0.1 * wall + 0.1) * 10, 6)) / 10
    row = PE_PIPES[pipe]
    assert row.amount * 1000 == pytest.approx(outside - 2 * wall, abs=1e-9)
    assert row.low * 1000 == pytest.approx(outside - 2 * greatest, abs=1e-9)
