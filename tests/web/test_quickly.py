"""RFC 8259: JSON has no word for a number that is none; Python's own writer is the reference."""

import json
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.web.quickly import QuickJSON

PLAIN = (
    st.none()
    | st.booleans()
    | st.integers(-(2**53), 2**53)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text()
)
HELD = st.recursive(PLAIN, lambda inner: st.lists(inner) | st.dictionaries(st.text(), inner), max_leaves=20)


@given(HELD)
def test_it_says_what_pythons_writer_says(held: Any) -> None:
    assert json.loads(QuickJSON(held).body) == held == json.loads(json.dumps(held))


@pytest.mark.parametrize("none", [math.nan, math.inf, -math.inf])
def test_no_number_is_told_as_nothing(none: float) -> None:
    assert json.loads(QuickJSON({"level": [1.5, none]}).body) == {"level": [1.5, None]}
