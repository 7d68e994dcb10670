"""A TOML file that does not parse: where, and what to type instead, in plain words."""

import re

from beckwright.base.errors import Problem
from beckwright.job.wording.sentences import shown

AT = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)")
WORDS = {
    "Expected '='": ("A key is followed by = and its value", "Write key = value"),
    "Invalid value": (
        "After = comes a number, a text in quotes, true or false, or a list",
        "Put a text in quotes, and close a list opened above",
    ),
    "Expected newline": ("A line ends after its value", "Write decimals with a point, and one key on a line"),
    "Cannot overwrite": ("A key stands once in its section", "Take one of the two out"),
    "Cannot declare": ("A section stands once", "Join the two, or use [[ ]] for a list of several"),
    "Cannot mutate": ("A section stands once", "Join the two"),
    "Duplicate inline": ("A key stands once", "Take one of the two out"),
    "Unterminated": ("A text begins and ends with quotes on one line", "Close the quotes"),
    "Unclosed array": ("A list ends with ]", "Close the bracket, and part its values with commas"),
    "Unclosed inline": ("Braces come in pairs", "Close the brace"),
    "Expected ']": ("A section's name stands in square brackets", "Close the bracket"),
    "Unescaped": ("A \\ in a text is written twice", "Write \\\\ or use single quotes"),
    "Illegal character": ("A text ends with its quotes on the same line", "Close the quotes"),
    "Invalid initial": ("A key is made of letters, digits, - and _", "Put any other name in quotes"),
    "Invalid statement": ("A line is a key, a section or a comment", "Write # before a comment"),
    "Invalid date": ("A date is a day of the calendar", 'Put it in quotes: "2026-04-12"'),
    "Found invalid character": ("Plain text holds no control characters", "Type the line again by hand"),
    "Exceeds the limit": ("A number has fewer than 4300 digits", "Write a sane number"),
}


def syntax_problem(error: Exception, text: str, file: str) -> Problem:
    """Put what the parser says into a problem with line and column."""
    message = str(error)
    at = AT.search(message)
    number, column = (int(at[1]), int(at[2])) if at and at[1] else (text.count("\n") + 1, 0)
    line = text.split("\n")[number - 1].strip()
    place = f"{file} line {number} column {column}" if column else f"{file}, at its end"
    rule, remedy = next(
        (words for start, words in WORDS.items() if start in message),
        ("The file follows the rules of TOML", "Compare the line with those around it"),
    )
    found = f"cannot make sense of {shown(line)}" if line else "something is left open"
    return Problem(place=place, found=found, rule=rule, remedy=remedy)


def depth_problem(file: str) -> Problem:
    """Return the problem of a file nested deeper than the parser can follow."""
    rule, remedy = "A job has lists of lists and no deeper", "Look for stray brackets and points"
    return Problem(place=file, found="brackets or names are nested too deep to follow", rule=rule, remedy=remedy)
