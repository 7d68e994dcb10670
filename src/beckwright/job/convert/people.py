"""The people of a job, as written to the job's."""

from beckwright.job.model import Person
from beckwright.job.written import Written


def people_from(written: Written) -> tuple[Person, ...]:
    """Who is rung, in the order they stand."""
    return tuple(Person(name=each.name, trade=each.trade, telephone=each.telephone) for each in written.people)
