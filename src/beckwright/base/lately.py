"""Remembering what was lately worked out of one and the same thing, which is too large to be compared."""

from collections.abc import Callable, Hashable
from functools import wraps
from typing import Concatenate, ParamSpec, TypeVar

Thing = TypeVar("Thing")
More = ParamSpec("More")
Made = TypeVar("Made")

HELD = 3


def lately(
    make: Callable[Concatenate[Thing, More], Made],
) -> Callable[Concatenate[Thing, More], Made]:
    """Give again what a function of a frozen thing gave lately; the same thing is the very same, not one like it.

    Whatever else it is given must be hashable.
    """
    held: list[tuple[Thing, Hashable, Made]] = []

    @wraps(make)
    def given(thing: Thing, /, *more: More.args, **named: More.kwargs) -> Made:
        asked = (more, tuple(named.items()))
        for of, before, made in tuple(held):
            if of is thing and before == asked:
                return made
        made = make(thing, *more, **named)
        held.append((thing, asked, made))
        del held[:-HELD]
        return made

    return given
