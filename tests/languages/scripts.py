"""What scripts of the browser say to people: their texts and templates, told from the names machines go by.

A parser makes a tree of each script, and where a text stands in it says what it is. What goes into an element, its
label or its title is words however short; what is asked of the page, a class and a key are none; anything else is
words where it reads like words. A template is every text it can make; a hole stands for what only a run can tell.
"""

import re
from ast import literal_eval
from collections.abc import Iterator
from itertools import chain, product
from pathlib import Path

import tree_sitter_javascript
from tree_sitter import Language, Node, Parser, Query, QueryCursor

STATIC = Path(__file__).parents[2] / "src" / "beckwright" / "web" / "static"
JAVASCRIPT = Language(tree_sitter_javascript.language())
TEXTS = """[(string) (template_string)] @text
((call_expression function: (identifier) @function) @text (#any-of? @function "counted" "unit"))"""
"""What the parser is asked for: ``counted`` and ``unit`` of the scripts make a piece of a sentence of their words."""
UNITS = {"mm": "in", "m": "ft", "L/h": "US gal/h"}
"""What ``unit`` tells readers of US units instead."""
HOLE = "\0"
"""Stands in a form for what only a run can tell."""

SHOWN_BY = {
    **dict.fromkeys(("append", "replaceChildren"), slice(None)),
    "become": slice(1, None),
    **dict.fromkeys(("make", "draw", "written", "sketch"), slice(2, None)),
    **dict.fromkeys(("label", "writeDown", "ask"), slice(2, 3)),
}
"""Functions that put words on the page, and which of their arguments are words."""
NAMES_IN = {"querySelector", "querySelectorAll", "startsWith", "replace", "get", "handle", "lain"}
"""Functions that are given names, or texts that are never shown as they are."""
SHOWN_AS = {"textContent", "title", "alt", "placeholder", "aria-label", "says"}
NAMES_AS = {"class", "className", "kind", "do", "COUNTED"}
"""Keys, properties and constants that hold classes, edits and other names."""
NO_WORDS = {"press words", "edge strong", "water strong", f"grade {HOLE}"}
"""Classes that read like words and stand where words may."""
ENDS = {"program", "arrow_function", "statement_block", "template_substitution"}
"""What the grammar calls places beyond which nothing says any more what a text is."""
KEPT = {"pair", "variable_declarator", "field_definition", "assignment_pattern"}
KEPT |= {"assignment_expression", "augmented_assignment_expression"}
"""What it calls a thing that is kept under a name; the name stands first."""
_WORD = re.compile(r"[^\W\d_]{2}")
_READS = re.compile(r"[^\W\d_]{2,},? [^\W\d_]|[^\W\d_]{2,}[,:]? \0|\0,? [^\W\d_]{3}|^[A-Z][a-z]+\b|[a-z]{2,}[.?:]$")
_CODE = re.compile(r"[{#\[]|^\.|^beckwright ")
"""Markup, selectors and programs of a drawing; what the browser keeps begins with our name."""


def of(folder: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """All that scripts of a folder may say, each with the name of its file."""
    for file in sorted((STATIC / folder).glob("*.js")):
        for forms in texts(file.read_text(encoding="utf-8")):
            yield file.name, forms


def texts(script: str) -> list[tuple[str, ...]]:
    """All a script may say to people, in the order it stands: of each text the forms it can have."""
    root = Parser(JAVASCRIPT).parse(script.encode()).root_node
    assert not root.has_error
    found = QueryCursor(Query(JAVASCRIPT, TEXTS)).captures(root).get("text", [])
    wholes = sorted((node for node in found if not _is_part(node)), key=lambda node: node.start_byte)
    said = (tuple(form for form in _forms(node) if _is_words(form, node)) for node in wholes)
    return [forms for forms in said if forms]


def _is_part(node: Node) -> bool:
    """Whether a text is told with the one it stands in."""
    parent = node.parent.parent if node.parent.type == "arguments" else node.parent
    whole = parent.type in ("string", "template_string", "template_substitution", "call_expression")
    return node in _pieces(parent) and (whole or _is_part(parent))


def _pieces(node: Node) -> list[Node]:
    """What the text of an expression is put together of or chosen from; none where only a run can tell."""
    inner = _inner(node)
    match node.type:
        case "string" | "template_string" | "template_substitution" | "parenthesized_expression":
            return inner
        case "ternary_expression":
            return inner[1:]
        case "binary_expression" if node.child_by_field_name("operator").type in ("??", "||", "&&"):
            return inner
        case "call_expression" if _name(inner[0]) in ("unit", "counted"):
            return _inner(inner[1])
    return []


def _forms(node: Node) -> list[str]:
    """Every text an expression can be."""
    pieces = [_forms(piece) for piece in _pieces(node)]
    match node.type:
        case "string_fragment":
            return [node.text.decode()]
        case "escape_sequence":
            return [literal_eval(f'"{node.text.decode()}"')]
        case "string" | "template_string":
            return ["".join(each) for each in product(*pieces)]
        case "call_expression" if len(pieces) == 1:  # A unit; what is counted has two pieces or three.
            return [*pieces[0], *(UNITS.get(unit, unit) for unit in pieces[0])]
        case "call_expression" if pieces:
            one, many = pieces[1], pieces[2] if len(pieces) > 2 else [f"{one}s" for one in pieces[1]]
            return [f"{HOLE} {thing}" for thing in (*one, *many)]
    return list(dict.fromkeys(chain(*pieces))) or [HOLE]


def _is_words(form: str, node: Node) -> bool:
    """Whether a form of a text is words, where the text stands."""
    bare, told = form.strip(), _told(node)
    reads = bare not in NO_WORDS and _READS.search(bare) and not _CODE.search(bare)
    return told is not False and bool(_WORD.search(form) and (told or reads))


def _told(node: Node) -> bool | None:
    """Whether what stands there is words or a name, None where it may be either: the nearest around it says."""
    parent = node.parent
    if parent.type in ENDS:
        return None
    if parent.type in KEPT:
        return _kept_as(node, _inner(parent)[0])
    if parent.type == "arguments":
        return _given_to(node, parent)
    if parent.type == "member_expression" and node.type == "array" and b".map((words)" in parent.parent.text:
        return True
    beside = {sibling.type for sibling in (node.prev_sibling, node.next_sibling) if sibling}
    return False if beside & {"===", "!==", "case"} else _told(parent)


def _kept_as(node: Node, key: Node) -> bool | None:
    """The same for what is kept under a key."""
    if node == key or _name(key) in NAMES_AS:
        return False
    return True if _name(key) in SHOWN_AS else None


def _given_to(node: Node, arguments: Node) -> bool | None:
    """The same for what a function is given."""
    name, given = _name(arguments.prev_named_sibling), _inner(arguments)
    if name == "setAttribute":
        return node != given[0] and _name(given[0]) in SHOWN_AS
    if name in SHOWN_BY:
        return node in given[SHOWN_BY[name]]
    return False if name in NAMES_IN else None


def _inner(node: Node) -> list[Node]:
    """What an expression holds, without comments."""
    return [child for child in node.named_children if not child.is_extra]


def _name(node: Node) -> str:
    """Last name of an expression: the function it calls, the property it sets, the key it is."""
    return (re.findall(r"[\w$-]+", node.text.decode()) or [""])[-1]
