"""A value: frozen all the way down, compared by what it holds. The only kind of object the chain passes on."""

import dataclasses
from collections.abc import Callable
from inspect import get_annotations
from types import UnionType
from typing import Annotated, Any, Literal, TypeVar, Union, dataclass_transform, get_args, get_origin

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


def _told(self: Any) -> str:
    held = (f"{field.name}={getattr(self, field.name)!r}" for field in dataclasses.fields(self))
    return f"{type(self).__qualname__}({', '.join(held)})"


def _never_array(hint: Any) -> bool:
    """Whether a field that says it holds this never holds an array itself; in doubt it may."""
    origin = get_origin(hint)
    if origin is Annotated:
        return _never_array(hint.__origin__)
    if origin in (Union, UnionType):
        return all(map(_never_array, get_args(hint)))
    if origin in (tuple, Literal):
        return True
    return isinstance(hint, type) and hint is not object and not issubclass(hint, np.ndarray)


def _freezer(cls: type) -> Callable[[Any], None] | None:
    """What locks the arrays of a new value; None where no field may hold one.

    Other fields are passed over: thousands of small values are made a second.
    """
    names = tuple(name for name, hint in get_annotations(cls).items() if not _never_array(hint))

    def freeze(self: Any) -> None:
        for name in names:
            held = getattr(self, name)
            if isinstance(held, np.ndarray):
                held.setflags(write=False)

    return freeze if names else None


@dataclass_transform(frozen_default=True, kw_only_default=True)
def value(cls: type[T]) -> type[T]:
    """Make a frozen, keyword-only, slotted dataclass whose arrays cannot be written and compare whole.

    Example: ``@value class Pool: floor: Level; plan: Area``.
    """
    freeze = _freezer(cls)
    if freeze is not None and "__post_init__" not in cls.__dict__:
        cls.__post_init__ = freeze  # type: ignore[attr-defined]
    cls.__eq__ = _equal  # type: ignore[method-assign]
    cls.__hash__ = None  # type: ignore[assignment]
    # One for all: to write one for each of hundreds of classes takes a twentieth of a second at every start.
    if "__repr__" not in cls.__dict__:
        cls.__repr__ = _told  # type: ignore[method-assign]
    make: Callable[[type[T]], type[T]] = dataclasses.dataclass(
        frozen=True, slots=True, kw_only=True, eq=False, repr=False
    )
    made = make(cls)
    _ease_carrying(made)
    return made


def _ease_carrying(made: type) -> None:
    """Let values be handed to another process without asking each anew what its fields are: sheets hold thousands."""
    names = tuple(field.name for field in dataclasses.fields(made))
    put = object.__setattr__

    def held(self: object) -> tuple[Any, ...]:
        return tuple([getattr(self, name) for name in names])

    def hold(self: object, state: tuple[Any, ...]) -> None:
        for name, each in zip(names, state, strict=True):
            put(self, name, each)

    made.__getstate__ = held  # type: ignore[method-assign, assignment]
    made.__setstate__ = hold  # type: ignore[attr-defined]
