"""What a cure is: an order in words with its numbers, and the edits of job.toml that carry it out."""

from typing import Any

from beckwright.base.findings import Finding
from beckwright.base.values import value
from beckwright.job.edit import Edit


@value
class Order:
    """A cure not tried yet."""

    words: str
    edits: tuple[Edit, ...]


@value
class Proposal:
    """A cure that was tried: with its edits made the finding is gone, or clearly lighter.

    gone  whether the finding is gone
    """

    finding: Finding
    words: str
    edits: tuple[Edit, ...]
    gone: bool

    @property
    def written(self) -> list[dict[str, Any]]:
        """The edits in their JSON form."""
        return [written(each) for each in self.edits]


def written(edit: Edit) -> dict[str, Any]:
    """An edit in its JSON form, as ``read_edit`` takes it."""
    return {"do": edit.do, **edit.model_dump(mode="json", exclude_unset=True, exclude={"do"})}
