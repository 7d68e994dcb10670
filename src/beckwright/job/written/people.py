"""The people of a job, as written: who is rung when something is wrong."""

from typing import Annotated

from pydantic import StringConstraints

from beckwright.job.written.fields import PLAIN, Name, Section, told

Telephone = Annotated[str, StringConstraints(max_length=30, pattern=PLAIN)]


class PersonWritten(Section):
    """Somebody the owner may ring."""

    name: Name = told("name, as it is printed on the care card")
    trade: Name = told("what they are rung for, such as builder, electrician or nursery")
    telephone: Telephone = told("as it is dialled", default="")
