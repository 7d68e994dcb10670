"""The programme: which task when, which may wait, and how sure the last day is."""

from beckwright.stages.programme.plan import make_programme, own_tasks
from beckwright.stages.programme.tasks import tasks_for
from beckwright.stages.programme.values import Clash, Dated, Hire, Passes, Programme, Task

__all__ = ["Clash", "Dated", "Hire", "Passes", "Programme", "Task", "make_programme", "own_tasks", "tasks_for"]
