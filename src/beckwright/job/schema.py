"""JSON Schema of job.toml: every key with its meaning, unit and bounds, for editors and for the papers."""

from typing import Any

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def schema() -> dict[str, Any]:
    """Return the JSON Schema of job.toml (draft 2020-12). Units stand under ``unit`` at each number."""
    from beckwright.job.written import meanings

    return {"$schema": DIALECT, **meanings()}
