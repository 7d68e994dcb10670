"""What must never be lost: every text job.toml has had, what was read on site, photographs, the diary."""

from beckwright.site.keeper import Keeper
from beckwright.site.values import Conflict, Entry, Photograph, Reading, Revision, Saved, Version

__all__ = ["Conflict", "Entry", "Keeper", "Photograph", "Reading", "Revision", "Saved", "Version"]
