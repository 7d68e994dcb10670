"""A finding: the job can be designed, but someone should look. Printed on every sheet it touches."""

from enum import IntEnum

from beckwright.base.values import value


class Severity(IntEnum):
    """How a finding weighs: a note informs, a caution wants a decision, a fail wants a cure before digging."""

    NOTE = 1
    CAUTION = 2
    FAIL = 3


@value
class Finding:
    """One thing to look at: place, what, how much against which limit; then the cure as an order.

    code      short and stable, such as ``freeboard-short``: what the finding is about
    place     in words, such as ``right edge, 8.4 to 9.4 m``
    says      what is so, with the number and the limit in the units people read
    cure      what would cure it, as an order, with the number that cures it
    source    where the limit comes from
    chainage  from and to, m, or empty where the finding is not on the course
    figure    dotted name of the figure judged, or empty
    """

    severity: Severity
    code: str
    place: str
    says: str
    cure: str
    source: str
    chainage: tuple[float, ...] = ()
    figure: str = ""

    def __str__(self) -> str:
        return f"{self.place}. {self.says} {self.cure}"
