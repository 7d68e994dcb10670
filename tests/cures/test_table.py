"""Every finding has a rule that seeks its cure, or a reason why none can be had: read off the source itself."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from beckwright.cures import REASONS, RULES

SOURCE = Path(__file__).parents[2] / "src" / "beckwright"
FILES = (
    *sorted((SOURCE / "stages" / "findings").glob("*.py")),
    SOURCE / "film" / "findings.py",
    SOURCE / "stages" / "setting_out" / "findings.py",
)
CODE = re.compile(r"[a-z0-9]+(-[a-z0-9]+)+")
MAKERS = {"Finding", "_finding", "_splashed"}


def codes_in(path: Path) -> Iterator[str]:
    """Texts that have the form of a code where a finding is made."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in MAKERS:
            told = [*node.args, *(each.value for each in node.keywords if each.arg == "code")]
            for given in told:
                parts = (given.body, given.orelse) if isinstance(given, ast.IfExp) else (given,)
                for part in parts:
                    if isinstance(part, ast.Constant) and CODE.fullmatch(str(part.value)):
                        yield str(part.value)


def test_every_finding_is_cured_or_tells_why_not() -> None:
    codes = {code for path in FILES for code in codes_in(path)}
    assert len(codes) > 100, "the reader of the source has gone blind"
    assert codes - {*RULES, *REASONS} == set()
    assert {*RULES, *REASONS} - codes == set()
    assert RULES.keys() & REASONS.keys() == set()


def test_reasons_are_sentences() -> None:
    assert [code for code, reason in REASONS.items() if not reason.endswith(".") or len(reason.split()) < 8] == []
