"""Who is rung when something is wrong."""

from beckwright.base.values import value


@value
class Person:
    """Somebody the owner may ring. ``telephone`` as it is dialled, or empty."""

    name: str
    trade: str
    telephone: str
