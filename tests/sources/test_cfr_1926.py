"""29 CFR 1926, Safety and Health Regulations for Construction (US), subpart P, appendix B, table B-1.

Provenance: as quoted on a stored page: type A 3/4 to 1, type B 1 to 1, type C 1 1/2 to 1, less than 20 ft deep. Which
of our soils is of which type is our own reading of appendix A (silt, silt loam and sandy loam are B, gravel, sand and
loamy sand C), from memory.
"""

import pytest

from beckwright.tables.soils import STANDS

TYPES = {"A": 0.75, "B": 1.0, "C": 1.5}


@pytest.mark.parametrize(
    ("soil", "kind"),
    [("sand", "C"), ("gravel", "C"), ("made ground", "C"), ("loam", "B"), ("silt", "B"), ("clay", "B")],
)
def test_table_b_1(soil: str, kind: str) -> None:
    assert STANDS[soil].amount == TYPES[kind]
    assert STANDS[soil].jurisdiction == "US"


def test_stiff_clay_may_be_of_type_a() -> None:
    assert STANDS["clay"].low == TYPES["A"]
