"""Looking after it: what is normal for one job, what to do when it is not, and what changes over the years."""

from beckwright.care.judge import Judged, judge, lost_over
from beckwright.care.normal import Drops, Normal, care_films, drops, normal
from beckwright.care.second import Second, second_feature, second_findings
from beckwright.care.service import ITEMS, Limit, Record, Trend, limits, read_service, trend, trends
from beckwright.care.settling import Sinking, settling
from beckwright.care.tasks import CareTask, care_tasks, frost_span
from beckwright.care.told import numbers
from beckwright.care.tree import FaultTree, Leaf, Question, Symptom, fault_tree

__all__ = [
    "ITEMS",
    "CareTask",
    "Drops",
    "FaultTree",
    "Judged",
    "Leaf",
    "Limit",
    "Normal",
    "Question",
    "Record",
    "Second",
    "Sinking",
    "Symptom",
    "Trend",
    "care_films",
    "care_tasks",
    "drops",
    "fault_tree",
    "frost_span",
    "judge",
    "limits",
    "lost_over",
    "normal",
    "numbers",
    "read_service",
    "second_feature",
    "second_findings",
    "settling",
    "trend",
    "trends",
]
