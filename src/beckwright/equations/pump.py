"""What a pump gives at another speed and between the rows of its maker's table, and the work it does."""

from beckwright.base.constants import STANDARD_GRAVITY, WATER_DENSITY
from beckwright.base.published import published
from beckwright.base.quantities import Flow, Length, Level, Power, Ratio


@published(source="crane-tp410", place="pump affinity laws, Example 7-33")
def flow_at_speed(flow: Flow, speed: Ratio) -> Flow:
    """Flow at another speed, at the matching point of the curve.

    ``Q2 = n Q1``

    flow   Q1  at full speed
    speed  n   new speed over full speed
    """
    return speed * flow


@published(source="crane-tp410", place="pump affinity laws, Example 7-33")
def head_at_speed(head: Length, speed: Ratio) -> Length:
    """Head at another speed, at the matching point of the curve.

    ``H2 = n**2 H1``

    head   H1  at full speed
    speed  n   new speed over full speed
    """
    return speed**2 * head


@published(source="crane-tp410", place="pump affinity laws, Example 7-33")
def power_at_speed(power: Power, speed: Ratio) -> Power:
    """Power at another speed, at the matching point of the curve.

    ``P2 = n**3 P1``

    power  P1  at full speed
    speed  n   new speed over full speed
    """
    return speed**3 * power


@published(source="definition", place="straight line through two points")
def between_rows(x: Ratio, lower_x: Ratio, upper_x: Ratio, lower_y: Ratio, upper_y: Ratio) -> Ratio:
    """Read between two rows of a maker's table. Any unit: both x alike, both y and the result alike.

    ``y = y1 + (x - x1) (y2 - y1) / (x2 - x1)``

    x        x   where to read
    lower_x  x1  first column, row before
    upper_x  x2  first column, row after
    lower_y  y1  second column, row before
    upper_y  y2  second column, row after
    """
    return lower_y + (x - lower_x) * (upper_y - lower_y) / (upper_x - lower_x)


@published(source="definition", place="weight of water lifted in a second")
def hydraulic_power(flow: Flow, head: Length) -> Power:
    """Power the water takes up; what the pump draws from the wall is more.

    ``P = rho g Q H``

    flow  Q  delivered
    head  H  total head
    """
    return WATER_DENSITY * STANDARD_GRAVITY * flow * head


@published(source="definition", place="energy balance from the reservoir to the outlet")
def total_head(static_lift: Length, friction_loss: Length, fittings_loss: Length) -> Length:
    """Head the pump must give.

    ``H = Hs + hf + hk``

    static_lift    Hs  outlet above the running level in the reservoir
    friction_loss  hf  lost along the hose
    fittings_loss  hk  lost in bends, valves, entrance and exit
    """
    return static_lift + friction_loss + fittings_loss


@published(source="definition", place="difference of levels")
def static_lift(outlet: Level, running: Level) -> Length:
    """Height the water is lifted: from the running level, not the rest level.

    ``Hs = zo - zr``

    outlet   zo  level where the hose lets go of the water
    running  zr  level in the reservoir while it runs
    """
    return outlet - running
