"""The command line: thin, no arithmetic of its own. Importing it loads none of the engine, so help comes at once."""

from beckwright.cli.commands import app
from beckwright.cli.guard import main

__all__ = ["app", "main"]
