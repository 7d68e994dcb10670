"""A survey that no surface can be drawn through."""

from beckwright.base.errors import JobError, Problem


def refused(found: str, remedy: str) -> JobError:
    """One problem of the survey, told as the job reader tells its own."""
    rule = "A surface needs points that stand apart and breaklines that do not cross"
    return JobError([Problem(place="survey.csv", found=found, rule=rule, remedy=remedy)])
