"""A file is there whole or not at all: whoever stops us, or a full disk, leaves the earlier one as it was."""

import os
from pathlib import Path


def keep(path: Path, content: bytes) -> Path:
    """Write a file under a passing name beside its place, then put it there. Raises OSError."""
    passing = path.with_name(f".{path.name}.part")
    try:
        passing.write_bytes(content)
        os.replace(passing, path)  # noqa: PTH105  # The same on every system: over a file that is there.
    except BaseException:
        passing.unlink(missing_ok=True)
        raise
    return path
