"""What must never be lost: each text of a job with its tables, what was read on site, photographs, diary."""

from beckwright.site.keeper import Keeper
from beckwright.site.values import Conflict, Entry, Photograph, Reading, Revision, Saved, Tables, Version

__all__ = ["Conflict", "Entry", "Keeper", "Photograph", "Reading", "Revision", "Saved", "Tables", "Version"]
