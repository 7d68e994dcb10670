"""Every tabled number says where it comes from, lies in its own band, and has a unit; and the tables agree."""

import importlib
import pkgutil
from collections.abc import Iterator

import pytest

import beckwright.equations
import beckwright.tables
from beckwright.base.published import REGISTER, Grade
from beckwright.base.tabled import Tabled
from beckwright.tables.beds import SIZE_10, SIZE_50, SIZE_84_50
from beckwright.tables.hoses import PE_PIPES
from beckwright.tables.sources import SOURCES


def _rows() -> Iterator[tuple[str, Tabled]]:
    for found in pkgutil.iter_modules(beckwright.tables.__path__):
        module = importlib.import_module(f"beckwright.tables.{found.name}")
        for name, held in vars(module).items():
            if isinstance(held, Tabled):
                yield f"{found.name}.{name}", held
            if isinstance(held, dict) and not name.startswith("_"):
                yield from (
                    (f"{found.name}.{name}[{key}]", row) for key, row in held.items() if isinstance(row, Tabled)
                )


ROWS = [pytest.param(row, id=name) for name, row in _rows()]


@pytest.mark.parametrize("row", ROWS)
class TestRow:
    def test_source_or_reason(self, row: Tabled) -> None:
        assert row.place
        if row.grade is Grade.PUBLISHED:
            assert row.source in SOURCES
        else:
            assert not row.source

    def test_band(self, row: Tabled) -> None:
        assert row.low <= row.amount <= row.high

    def test_unit(self, row: Tabled) -> None:
        assert row.unit


def test_sources_are_whole() -> None:
    for key, source in SOURCES.items():
        assert source.key == key
        assert source.reference.endswith(".")
        assert source.seen in {"stored", "memory", "computed"}


def test_every_source_is_cited() -> None:
    """By an equation, a row, or a test of that publication."""
    for found in pkgutil.iter_modules(beckwright.equations.__path__):
        importlib.import_module(f"beckwright.equations.{found.name}")
    cited = {equation.source for equation in REGISTER.values()} | {row.source for _, row in _rows()}
    assert SOURCES.keys() - cited <= {"ferguson-2007", "robinson-1998"}


def test_sieved_stone_is_even_on_a_log_scale() -> None:
    """10 to 90 % pass between a and b: 80 % over the whole, so 40 % to the middle and 34 % more to D84."""
    smallest, largest = 0.02, 0.04
    spread = largest / smallest
    median = smallest * spread**SIZE_50.amount
    assert smallest * spread**SIZE_10.amount == smallest
    assert median == pytest.approx((smallest * largest) ** 0.5)
    assert SIZE_84_50.amount == pytest.approx((84 - 50) / (90 - 10))
    assert smallest < median < median * spread**SIZE_84_50.amount < largest


@pytest.mark.parametrize("outside", [32, 40, 50, 63, 75, 90, 110])
def test_a_thinner_wall_leaves_a_wider_bore(outside: int) -> None:
    assert PE_PIPES[outside, 11].amount < PE_PIPES[outside, 17].amount < outside / 1000
