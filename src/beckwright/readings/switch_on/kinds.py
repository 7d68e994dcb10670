"""What can be read on the first morning: each kind with its place, its units and how sure it is."""

from beckwright.base.values import value


@value
class Kind:
    """One kind of reading.

    place    what its place must be: nothing, a lip, a chainage, or a lip or the reservoir
    amount   unit it is written in, empty where nothing is; seconds whether they are wanted
    scale    SI of one of that unit
    tells    what it is, for a person
    """

    name: str
    place: str
    amount: str
    scale: float
    seconds: bool
    tells: str


def _kind(name: str, place: str, amount: str, scale: float, *, seconds: bool, tells: str) -> Kind:
    return Kind(name=name, place=place, amount=amount, scale=scale, seconds=seconds, tells=tells)


KINDS: dict[str, Kind] = {
    each.name: each
    for each in (
        _kind(
            "bucket", "", "L", 1e-3, seconds=True, tells="litres caught where the hose lets go, and the seconds it took"
        ),
        _kind(
            "reservoir", "", "mm", 1e-3, seconds=True, tells="level over the reservoir's floor, seconds after the start"
        ),
        _kind(
            "draws air", "", "", 1.0, seconds=True, tells="seconds after the start at which the pump first draws air"
        ),
        _kind("steady", "", "mm", 1e-3, seconds=False, tells="level over the reservoir's floor once all runs steadily"),
        _kind("rest", "", "mm", 1e-3, seconds=False, tells="level over the reservoir's floor with the pump off"),
        _kind("watts", "", "W", 1.0, seconds=False, tells="watts at the wall"),
        _kind(
            "arrival",
            "lip or reservoir",
            "",
            1.0,
            seconds=True,
            tells="seconds from a morning start until water comes over a lip",
        ),
        _kind("dry arrival", "lip or reservoir", "", 1.0, seconds=True, tells="the same at the first fill, all dry"),
        _kind(
            "water level", "chainage", "m", 1.0, seconds=False, tells="level of the running water, on the job's zero"
        ),
        _kind(
            "still level", "chainage", "m", 1.0, seconds=False, tells="level of the water at rest, on the job's zero"
        ),
        _kind(
            "dead head",
            "",
            "m",
            1.0,
            seconds=False,
            tells="height over the reservoir's water at which the lifted hose stops",
        ),
        _kind(
            "chamber",
            "",
            "mm",
            1e-3,
            seconds=False,
            tells="how far the water in the chamber stands below that in the crates",
        ),
        _kind("tilt", "lip", "mm", 1e-3, seconds=False, tells="right end of a lip over its left"),
    )
}
RUNNING = frozenset(KINDS) - {"rest", "still level", "tilt"}
"""Kinds that need a flow."""
