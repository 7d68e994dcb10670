"""How much louder a fall grows with its flow. Nothing here says how loud it is."""
# mypy: no-warn-return-any

from typing import Annotated

import numpy as np

from beckwright.base.published import Grade, published
from beckwright.base.quantities import Flow

Decibels = Annotated[float, "dB"]


@published(
    source="lilly-press",
    place="twice as loud takes eight times the flow; twice as loud read as 10 dB",
    grade=Grade.ASSUMED,
)
def louder_by(flow: Flow, than: Flow) -> Decibels:
    """How much louder one fall is at one flow than at another.

    ``L = 10 lg(Q / Q0) / lg(8)``

    flow  Q   over the lip
    than  Q0  over the same lip, to compare with
    """
    return 10 * np.log10(flow / than) / np.log10(8)
