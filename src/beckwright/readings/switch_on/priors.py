"""What is known of hose, pump, bed and reservoir before any reading: the bands the design itself stands on."""

from collections.abc import Sequence

import numpy as np

from beckwright.base.quantities import FloatArray, Ratio
from beckwright.base.tabled import Tabled
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.readings.switch_on.loop import Loop
from beckwright.readings.switch_on.stream import Stream
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE
from beckwright.tables import switch_on as table
from beckwright.tables.hoses import CORRUGATED_FRICTION, LOSS_FACTORS

HOSE, HEAD, FLOW, WATTS, RESTED, VOIDS, BED, HIDDEN, DRAINED, FILM, STANDS = (
    "hose and fittings",
    "pump's head",
    "pump's flow",
    "pump's watts",
    "rest level",
    "reservoir's voids",
    "bed's resistance",
    "hidden flow",
    "drained share of the stones",
    "film's clock",
    "water that stands behind the stones",
)
_END = 1.6449
"""Standard deviations from the middle of a band to its ends (table of the normal distribution, 95 %)."""

_ROUND = 0.5
"""How round a lopsided band is about its middle, in standard deviations."""


@value
class Prior:
    """What is known of one thing before any reading.

    row    its band; ``added`` where it adds instead of multiplying
    grade  of the row
    """

    name: str
    row: Tabled
    added: bool

    def at(self, away: FloatArray) -> FloatArray:
        """The thing itself, standard deviations away from its middle."""
        row = self.row
        if self.added:
            return row.amount + _leaning(away, row.amount - row.low, row.high - row.amount)
        times: FloatArray = row.amount * np.exp(
            _leaning(away, np.log(row.amount / row.low), np.log(row.high / row.amount))
        )
        return times


def _leaning(away: FloatArray, down: Ratio, up: Ratio) -> FloatArray:
    """How far from the middle, so that the ends of a lopsided band are the 5th and 95th of 100, without a corner."""
    lean = (up - down) / 2
    bent = _ROUND if abs(lean) < 0.7 * (up + down) / 2 else 0.02
    bend = (np.sqrt(away**2 + bent**2) - bent) / (np.sqrt(_END**2 + bent**2) - bent)
    moved: FloatArray = (up + down) / (2 * _END) * away + lean * bend
    return moved


def setting_of(flow: str) -> str:
    """Name of the parameter that stands for how a named flow was set."""
    return f"setting of {flow}"


def dial(loop: Loop, flow: str) -> Tabled:
    """Band of a setting: as wide as a dial is, but no pump runs faster than full speed."""
    row = table.SETTING
    top = max(min(row.high, 1.0 / loop.settings[flow].speed), 1.0 + 0.2 * (1.0 - row.low))
    return _times(row.low, top, row.place)


def priors_of(design: Design, loop: Loop, stream: Stream, dialled: Sequence[str]) -> dict[str, Prior]:
    """What is known before any reading, from the bands the design itself stands on."""
    hose = design.job.route.chosen
    wall = CORRUGATED_FRICTION if hose.wall == "corrugated" else LOSS_FACTORS[hose.wall]
    laid = table.HOSE_AS_LAID
    both = {
        end: float(np.exp(sign * np.hypot(*(np.log(getattr(row, end) / row.amount) for row in (wall, laid)))))
        for end, sign in (("low", -1.0), ("high", 1.0))
    }
    carried = stream.carried
    hides = carried[MIDDLE] > 0
    rows = {
        HOSE: _times(both["low"], both["high"], wall.place),
        HEAD: table.PUMP_HEAD,
        FLOW: table.PUMP_FLOW,
        WATTS: table.PUMP_WATTS,
        RESTED: table.RESTED,
        VOIDS: table.VOIDS[design.job.reservoir.fill],
        BED: Tabled(
            amount=1.0, low=0.0, high=2.0, unit="1", grade=_GRADE, source="", place="between the laws of the bed"
        ),
        HIDDEN: _times(
            float(carried[HIGH] / carried[MIDDLE]),
            float(carried[LOW] / carried[MIDDLE]),
            "between the laws of the layer",
        )
        if hides
        else None,
        DRAINED: table.DRAINED,
        FILM: table.FILM_CLOSE,
        STANDS: table.BEHIND_HOLDS,
        **{setting_of(flow): dial(loop, flow) for flow in dialled},
    }
    fixed = _times(1.0, 1.0, "no water is hidden in a bare bed")
    return {name: Prior(name=name, row=row or fixed, added=name in (RESTED, BED)) for name, row in rows.items()}


_GRADE = table.CAUSES["nothing out of the ordinary"].grade


def _times(low: float, high: float, place: str) -> Tabled:
    return Tabled(amount=1.0, low=low, high=high, unit="1", grade=_GRADE, source="", place=place)
