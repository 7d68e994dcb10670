"""The search for the least count that cures: law, not numbers."""

from hypothesis import given
from hypothesis import strategies as st

from beckwright.cures.bench import MOST_DESIGNS, least


@given(st.integers(1, 400), st.integers(0, 400))
def test_what_is_found_was_tried_and_cures_in_no_more_designs_than_promised(needed: int, guess: int) -> None:
    tried: list[int] = []

    def works(count: int) -> bool:
        tried.append(count)
        return count >= needed

    found = least(works, guess)
    assert len(tried) <= MOST_DESIGNS
    if found is None:
        assert max(tried) < needed
    else:
        assert found in tried
        assert found >= needed


@given(st.integers(1, 60))
def test_from_a_guess_that_is_right_nothing_larger_is_found(needed: int) -> None:
    found = least(lambda count: count >= needed, needed)
    assert found is not None
    assert needed <= found <= needed + max(needed / 20, 1)


def test_what_never_cures_is_given_up() -> None:
    assert least(lambda _: False, 3) is None
