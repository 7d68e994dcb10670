"""How long work takes when nobody can be sure: three guesses at a task, and what they come to."""
# mypy: no-warn-return-any

from beckwright.base.published import published
from beckwright.base.quantities import Days, Ratio


@published(source="malcolm-1959", place="expected elapsed time, from three estimates")
def expected_duration(shortest: Days, likely: Days, longest: Days) -> Days:
    """Expected time of a task.

    ``te = (a + 4 m + b) / 6``

    shortest  a  if all goes well
    likely    m  as it mostly goes
    longest   b  if most goes wrong
    """
    return (shortest + 4 * likely + longest) / 6


@published(source="clark-1962", place="beta distribution with the mean of three estimates; first shape")
def beta_first_shape(shortest: Days, likely: Days, longest: Days) -> Ratio:
    """First shape of the beta distribution through three estimates.

    ``p = 1 + 4 (m - a) / (b - a)``

    shortest  a  if all goes well
    likely    m  as it mostly goes
    longest   b  if most goes wrong; more than a
    """
    return 1 + 4 * (likely - shortest) / (longest - shortest)


@published(source="clark-1962", place="beta distribution with the mean of three estimates; second shape")
def beta_second_shape(shortest: Days, likely: Days, longest: Days) -> Ratio:
    """Second shape of the beta distribution through three estimates.

    ``q = 1 + 4 (b - m) / (b - a)``

    shortest  a  if all goes well
    likely    m  as it mostly goes
    longest   b  if most goes wrong; more than a
    """
    return 1 + 4 * (longest - likely) / (longest - shortest)


@published(source="definition", place="tries until so many succeed")
def days_with_weather(duration: Days, lost: Ratio) -> Days:
    """Expected time of a task of which bad weather takes days.

    ``D = d / (1 - w)``

    duration  d  in fair weather
    lost      w  share of days on which nothing can be done
    """
    return duration / (1 - lost)
