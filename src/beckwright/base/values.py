"""A value: frozen all the way down, compared by what it holds. The only kind of object the chain passes on."""

import dataclasses
from collections.abc import Callable
from inspect import get_annotations
from typing import Annotated, Any, TypeVar, dataclass_transform, get_origin

import numpy as np

T = TypeVar("T")


def _same(one: object, other: object) -> bool:
    if isinstance(one, np.ndarray) or isinstance(other, np.ndarray):
        return np.array_equal(one, other, equal_nan=True)  # type: ignore[arg-type]
    if isinstance(one, tuple) and isinstance(other, tuple):
        return len(one) == len(other) and all(map(_same, one, other))
    return bool(one == other)


def _equal(self: Any, other: Any) -> Any:
    if type(self) is not type(other):
        return NotImplemented
    return all(_same(getattr(self, field.name), getattr(other, field.name)) for field in dataclasses.fields(self))


def _never_array(hint: Any) -> bool:
    return hint in (str, int, float, bool) or (get_origin(hint) is Annotated and hint.__origin__ is float)


def _freezer(cls: type) -> Callable[[Any], None]:
    """Fields that say they hold one number or word are passed over: thousands of small values are made a second."""
    names = tuple(name for name, hint in get_annotations(cls).items() if not _never_array(hint))

    def freeze(self: Any) -> None:
        for name in names:
            held = getattr(self, name)
            if isinstance(held, np.ndarray):
                held.setflags(write=False)

    return freeze


@dataclass_transform(frozen_default=True, kw_only_default=True)
def value(cls: type[T]) -> type[T]:
    """Make a frozen, keyword-only, slotted dataclass whose arrays cannot be written and compare whole.

    Example: ``@value class Pool: floor: Level; plan: Area``.
    """
    if "__post_init__" not in cls.__dict__:
        cls.__post_init__ = _freezer(cls)  # type: ignore[attr-defined]
    cls.__eq__ = _equal  # type: ignore[method-assign]
    cls.__hash__ = None  # type: ignore[assignment]
    make: Callable[[type[T]], type[T]] = dataclasses.dataclass(frozen=True, slots=True, kw_only=True, eq=False)
    return make(cls)
