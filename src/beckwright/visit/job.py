"""The stream in the middle of what is known, as a job to go on with."""

from datetime import date

from beckwright.visit.designed import sized
from beckwright.visit.sketch import sketch_at
from beckwright.visit.text import files_of
from beckwright.visit.values import Visit


def job_text(visit: Visit, *, title: str, day: date) -> dict[str, str]:
    """Texts of a job folder's files by their names: commented, every assumed input on the doubt list."""
    _, _, sketch = sized(sketch_at(visit, {}), visit)
    return files_of(sketch, visit, title=title, day=day)
