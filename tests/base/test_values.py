"""A value is frozen all the way down, whatever way its fields are told."""

import copy
import pickle
from typing import Literal

import numpy as np
import pytest

from beckwright.base.quantities import FloatArray, Length
from beckwright.base.values import value


@value
class Inner:
    many: FloatArray


@value
class Outer:
    one: Length
    word: Literal["a", "b"]
    inner: Inner
    perhaps: FloatArray | None
    anything: object
    said_later: "FloatArray"


@value
class Plain:
    one: Length
    perhaps: Length | None
    several: tuple[int, ...]


def test_arrays_are_locked_however_a_field_is_told() -> None:
    arrays = [np.zeros(2) for _ in range(4)]
    held = Outer(
        one=1.0, word="a", inner=Inner(many=arrays[0]), perhaps=arrays[1], anything=arrays[2], said_later=arrays[3]
    )
    for array in arrays:
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 1.0
    assert held == Outer(
        one=1.0,
        word="a",
        inner=Inner(many=np.zeros(2)),
        perhaps=np.zeros(2),
        anything=np.zeros(2),
        said_later=np.zeros(2),
    )


def test_a_value_without_arrays_is_frozen_too() -> None:
    held = Plain(one=1.0, perhaps=None, several=(1, 2))
    with pytest.raises(AttributeError):
        held.one = 2.0  # type: ignore[misc]
    assert held == Plain(one=1.0, perhaps=None, several=(1, 2))
    assert held != Plain(one=1.0, perhaps=0.0, several=(1, 2))


def test_a_value_is_carried_to_another_process_whole() -> None:
    """Pickled and copied as what it is, values in values too."""
    held = Inner(many=np.array([1.0, np.nan]))
    outer = Outer(one=1.0, word="a", inner=held, perhaps=None, anything=(held, held), said_later=np.arange(3.0))
    for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
        assert pickle.loads(pickle.dumps(outer, protocol)) == outer  # noqa: S301  # Our own.
    assert copy.deepcopy(outer) == outer
    assert repr(Plain(one=1.0, perhaps=None, several=(1, 2))) == "Plain(one=1.0, perhaps=None, several=(1, 2))"
