"""What machines lift, and what makes a lift by hand a worse one. What a person and a team lift stands with lining."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled


def _published(amount: float, source: str, place: str, jurisdiction: str = "") -> Tabled:
    return Tabled(
        amount=amount,
        low=amount,
        high=amount,
        unit="1",
        grade=Grade.PUBLISHED,
        source=source,
        place=place,
        jurisdiction=jurisdiction,
    )


TEAM_MOST = Tabled(
    amount=4.0,
    low=4.0,
    high=4.0,
    unit="1",
    grade=Grade.PUBLISHED,
    source="hse-l23",
    place="teams of more than four are unlikely to work together; four are counted like three, by half",
    jurisdiction="UK",
)

LIFT_CUTS: dict[str, Tabled] = {
    "twisted past 45 degrees": _published(0.10, "hse-l23", "twisting past 45 degrees: 10 % less", "UK"),
    "twisted past 90 degrees": _published(0.20, "hse-l23", "twisting past 90 degrees: 20 % less", "UK"),
    "once or twice a minute": _published(0.30, "hse-l23", "once or twice a minute: 30 % less", "UK"),
    "five to eight times a minute": _published(0.50, "hse-l23", "five to eight times a minute: 50 % less", "UK"),
    "more than twelve times a minute": _published(0.80, "hse-l23", "over twelve times a minute: 80 % less", "UK"),
}
"""Share by which the filter for one person falls."""

CHART_SHARE: dict[str, Tabled] = {
    "rated": _published(1.0, "iso-10567", "a chart of rated loads has both shares in it"),
    "tipping": _published(0.75, "iso-10567", "75 % of the load that just tips it"),
    "hydraulic": _published(0.87, "iso-10567", "87 % of the load its cylinders just hold"),
}
"""Share of a machine's chart that is rated."""
