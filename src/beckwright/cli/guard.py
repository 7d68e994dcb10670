"""The outer wall of the command line: a person gets one plain sentence, whatever goes wrong behind it."""

import os
import platform
import sys
import tempfile
import traceback
from pathlib import Path
from typing import NoReturn

from beckwright.base.errors import JobError
from beckwright.cli.commands import UNREADABLE, app
from beckwright.cli.tell import complain, complain_of

STOPPED = 130
"""What a command ends with when the person stops it with Ctrl-C."""
PIPE_CLOSED = 141
"""What a command ends with when its reader has gone away."""
FAULT = 70
"""What a command ends with at a fault of our own."""


def main() -> NoReturn:
    """Run the command line, and end with its code."""
    for stream in (sys.stdout, sys.stderr):
        stream.reconfigure(errors="replace")  # type: ignore[union-attr]  # An old console lacks thin spaces.
    try:
        code = _run()
        sys.stdout.flush()
    except BrokenPipeError:
        # What is still buffered would fail again, aloud, when Python closes the stream.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        code = PIPE_CLOSED
    except KeyboardInterrupt:
        code = STOPPED
    except JobError as error:
        complain_of(error)
        code = UNREADABLE
    except Exception as fault:  # The edge of the house: a fault is told in one sentence and kept in a report.
        complain(_report(fault))
        code = FAULT
    if code == STOPPED:
        complain("Stopped.")
    sys.exit(code)


def _run() -> int:
    try:
        app(prog_name="beckwright")
    except SystemExit as end:
        if isinstance(end.__context__, BrokenPipeError):
            raise end.__context__ from end
        return int(end.code or 0)
    return 0


def _report(fault: Exception) -> str:
    """Write the whole story of a fault to a file, and return the sentence that says where."""
    said = f"beckwright stopped at a fault of its own ({type(fault).__name__}); your job is as it was"
    story = "".join(traceback.format_exception(fault))
    try:
        handle, name = tempfile.mkstemp(prefix="beckwright-fault-", suffix=".txt")
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(f"{' '.join(sys.argv)}\nPython {platform.python_version()}, {platform.platform()}\n\n{story}")
    except OSError:
        return f"{said}, and no report of it could be written."
    return f"{said}. Please pass on this report: {Path(name)}"
