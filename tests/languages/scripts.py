"""What scripts of the browser say to people: their texts and templates, told from the names machines go by.

They are told apart by where they stand. What goes into an element, its label or its title is words however short; what
is asked of the page, the server or the browser's store, a class and a key are none; anything else is words where it
reads like words. A template is every text it can make: its holes hold a number, a letter, or the texts within them.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from itertools import islice, product
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "src" / "beckwright"
STATIC = PACKAGE / "web" / "static"
EDITS = PACKAGE / "job" / "edit" / "kinds.py"
HOLE = "\0"
"""Stands in a form for what the script puts in."""
HELD = ("7", "x")
"""A number and a word that may be a sentence of its own: neither is in a phrase, and both stay in any language."""
UNITS = {"mm": "in", "m": "ft", "L/h": "US gal/h"}
"""What ``unit`` of the scripts tells readers of US units instead."""
MOST = 500
"""Texts one template is tried as."""

SHOWN_BY = {
    "make": (2, 99),
    "draw": (2, 99),
    "written": (2, 99),
    "sketch": (2, 99),
    "become": (1, 99),
    "label": (2, 2),
    "writeDown": (2, 2),
    "ask": (2, 2),
    "append": (0, 99),
    "replaceChildren": (0, 99),
}
"""Helpers that put words on the page, and which of their arguments are words: first and last."""
SHOWN_AS = {"textContent", "title", "alt", "placeholder", "aria-label", "says"}
NAMES_AS = {
    "class",
    "className",
    "do",
    "kind",
    "d",
    "transform",
    "viewBox",
    "points",
    "method",
    "type",
    "id",
    "key",
    "origin",
}
"""Keys and properties that hold what machines go by."""
NAMES_IN = re.compile(
    r"query.*|closest|matches|getElement.*|by|byId|field|body|typed|all|.*Listener|.*Attribute|add|remove|toggle|contains"
    r"|create.*|.*Item|getProperty.*|split|join|replace|replaceAll|replaceState|startsWith|endsWith|includes|indexOf"
    r"|.*Channel|fetch|exchange|assign|RegExp|match|matchMedia|get|has|set|unit|one|Event|getContext|pad.*|import|through"
    r"|handle|\w*Error"
)
"""Functions that are given names, not words; most are the browser's own."""
_WORD = re.compile(r"[^\W\d_]{2}")
_READS = re.compile(r"[^\W\d_]{2,},? [^\W\d_]|[^\W\d_]{2,}[,:]? \0|\0,? [^\W\d_]{3}|^[A-Z][a-z]+\b|[a-z]{2,}[.?:]$")
_CODE = re.compile(r"[<>{}=#/\\_@\[\]]|^\w+(?:-\w+)+$|^[A-Z][a-z]+[A-Z]|^M\0|^[a-z]+\(|^beckwright |^\.[a-z]")
"""Markup, selectors, addresses, keys of a keyboard, paths of a drawing; what the browser keeps begins with our name."""
_OPENS_PATTERN = re.compile(r"(?:^|[(,=:\[!&|?{};\n]|\breturn)\s*$")
_CALLED = re.compile(r"([\w$.]+)\s*$")
_MADE_WORDS = re.compile(r"[^\[\]]*\]\.map\(\(words\)")
_NAME = re.compile(r"\"[\w-]+\"")
_BEFORE = re.compile(r"([\w$-]+)\"?\s*$")


@dataclass
class Frame:
    """A bracket that is open: whose it is, which of its arguments is written, and of an object under which key."""

    opened: str
    called: str = ""
    turn: int = 0
    key: str = ""


@dataclass(frozen=True)
class Text:
    """A text as it is written, all it can be, and whether a person surely sees it."""

    written: str
    forms: tuple[str, ...]
    shown: bool


def fills(form: str) -> Iterator[str]:
    """A form with each of its holes filled; one that is only the end of a sentence gets something to stand after."""
    form = f"x{form}" if re.match(r"(?: \(|[,:;] )", form) else form
    texts = form.split(HOLE)
    may = [(*HELD, "x.") if re.match(r" (?:[A-Z\d]|$)|$", after) else HELD for after in texts[1:]]
    for held in product(*may):
        yield texts[0] + "".join(word + text for word, text in zip(held, texts[1:], strict=True))


def texts(script: str) -> tuple[Text, ...]:
    """All a script may say to people."""
    found: list[Text] = []
    _walk(script, 0, found, hole=False)
    return tuple(found)


def _walk(script: str, at: int, found: list[Text], *, hole: bool) -> tuple[int, list[str]]:
    """Read on to the end, or of a hole to its closing bracket: where that is, and what the hole can say itself."""
    frames, said, code = [Frame("")], list[str](), ""
    while at < len(script):
        each = script[at]
        if hole and each == "}" and len(frames) == 1:
            return at + 1, said
        if script.startswith(("//", "/*"), at):
            at = _after(script, at, "\n" if script[at + 1] == "/" else "*/")
            continue
        if each == "/" and _OPENS_PATTERN.search(code):
            at = _past_pattern(script, at)
            code += "0"
            continue
        if each in "\"'`":
            began = at
            at, forms = _template(script, at + 1, found) if each == "`" else _plain(script, at)
            _note(script, at, forms, code, frames, found, said if hole else None)
            code += script[began:at] if _NAME.fullmatch(script[began:at]) else '""'
            continue
        _step(each, code, frames, script[at + 1 : at + 2])
        code += each
        at += 1
    return at, said


def _step(each: str, code: str, frames: list[Frame], after: str) -> None:
    top = frames[-1]
    if each in "([{":
        called = _CALLED.search(code)
        frames.append(Frame(each, called[1] if each == "(" and called else ""))
    elif each in ")]}" and len(frames) > 1:
        frames.pop()
    elif each == ",":
        top.turn, top.key = top.turn + 1, ""
    elif each == ";":
        top.key = ""
    elif each in ":=" and not top.key and after not in "=>" and code[-1:] not in "=!<>":
        named = _BEFORE.search(code)
        if (top.opened == "{" or each == "=") and named and "?" not in code[code.rfind("\n") + 1 :][-3:]:
            top.key = named[1]


def _note(
    script: str, at: int, forms: list[str], code: str, frames: list[Frame], found: list[Text], said: list[str] | None
) -> None:
    """Keep a text that is words; in a hole and in no bracket of it, it is part of the sentence around."""
    outer = frames[-1]
    if said is not None and len(frames) == 1 and not re.search(r"[!=]==?\s*$", code):
        said += forms
        return
    inside = said is not None and len(frames) == 2
    if outer.called == "unit" and inside:
        forms = [*forms, *(UNITS[form] for form in forms)]
    elif outer.called == "counted":
        plural = outer.turn == 1 and script[at] == ")"
        forms = [f"{HOLE} {form}{many}" for form in forms for many in ("", *(["s"] if plural else []))]
        frames = frames[:-1]
    else:
        inside = False
    if inside and said is not None:
        said += forms
        return
    place = _place(script, at, code, frames)
    read = tuple(form for form in forms if _WORD.search(form) and (place == "shown" or _reads(form)))
    if place != "name" and read:
        found.append(Text(" | ".join(forms[:3]), read, place == "shown"))


def _place(script: str, at: int, code: str, frames: list[Frame]) -> str:
    """Whether a text stands where words are shown, where only names do, or anywhere: the nearest bracket says."""
    is_key = frames[-1].opened == "{" and not frames[-1].key and re.match(r"\s*:", script[at:])
    if is_key or re.search(r"(?:[!=]==?|\bcase|\bfrom|\bimport)\s*$", code):
        return "name"
    if frames[-1].opened == "[" and _MADE_WORDS.match(script, at):
        return "shown"
    return next((place for frame in reversed(frames) if (place := _held_by(frame, code)) is not None), "")


def _held_by(frame: Frame, code: str) -> str | None:
    """What a bracket and its key make of the texts in it; None where the one around it says."""
    name = frame.called.split(".")[-1]
    for shown, named in ((frame.key in SHOWN_AS, frame.key in NAMES_AS), _arguments(frame, name, code)):
        if shown or named:
            return "shown" if shown else "name"
    return "" if frame.called or frame.key else None


def _arguments(frame: Frame, name: str, code: str) -> tuple[bool, bool]:
    """Whether what is written now of a call is shown, and whether it is a name."""
    if name == "setAttribute":
        attribute = re.search(r"\(\"([\w-]*)\"[^(]*$", code)
        shown = frame.turn > 0 and attribute is not None and attribute[1] in SHOWN_AS
        return shown, not shown
    if name in SHOWN_BY:
        first, last = SHOWN_BY[name]
        shown = first <= frame.turn <= last
        return shown, not shown
    return False, bool(NAMES_IN.fullmatch(name))


def _reads(form: str) -> bool:
    """Whether a text reads like words: with a space between them, a capital or a full stop, and no class of ours."""
    bare = form.strip()
    if not bare or _CODE.search(bare.split(". ")[0]) or bare in edits() or _is_look(bare.split()):
        return False
    return _READS.search(bare) is not None


def _is_look(words: list[str]) -> bool:
    """Whether words are classes of ours, of which the last goes with another in a look such as ``.label.strong``."""
    classes, first, last = looks()
    return set(words) <= classes | {HOLE} and (words[-1] in last or (words[-1] == HOLE and words[0] in first))


@cache
def looks() -> tuple[frozenset[str], frozenset[str], frozenset[str]]:
    """Every class the pages have a look for; those another is joined to, and those that are joined to one."""
    sheets = " ".join(file.read_text(encoding="utf-8") for file in STATIC.glob("*/*.css"))
    joined = re.findall(r"\.([a-z][\w-]*)(?=\.([a-z][\w-]*))", sheets)
    classes = re.findall(r"\.([a-z][\w-]*)", sheets)
    return frozenset(classes), frozenset(one for one, _ in joined), frozenset(other for _, other in joined)


@cache
def edits() -> frozenset[str]:
    """What Python calls each edit of a job."""
    return frozenset(re.findall(r'do: Literal\["([a-z ]+)"\]', EDITS.read_text(encoding="utf-8")))


def _after(script: str, at: int, end: str) -> int:
    found = script.find(end, at)
    return len(script) if found < 0 else found + (len(end) if end != "\n" else 0)


def _past_pattern(script: str, at: int) -> int:
    inside = False
    while True:
        at += 1
        if script[at] == "\\":
            at += 1
        elif script[at] in "[]":
            inside = script[at] == "["
        elif script[at] == "/" and not inside:
            return at + 1


def _plain(script: str, at: int) -> tuple[int, list[str]]:
    end = at + 1
    while script[end] != script[at]:
        end += 2 if script[end] == "\\" else 1
    return end + 1, [_unescaped(script[at + 1 : end])]


def _template(script: str, at: int, found: list[Text]) -> tuple[int, list[str]]:
    pieces: list[tuple[str, ...]] = []
    text = ""
    while script[at] != "`":
        if script.startswith("${", at):
            at, said = _walk(script, at + 2, found, hole=True)
            pieces += [(_unescaped(text),), (*said, HOLE) if len(said) < 2 else tuple(said)]
            text = ""
        elif script[at] == "\\":
            text, at = text + script[at : at + 2], at + 2
        else:
            text, at = text + script[at], at + 1
    pieces.append((_unescaped(text),))
    return at + 1, ["".join(each) for each in islice(product(*pieces), MOST)]


def _unescaped(text: str) -> str:
    return re.sub(r"\\(?:u([0-9a-f]{4})|(.))", lambda found: chr(int(found[1], 16)) if found[1] else found[2], text)


def of(folder: str) -> Iterator[tuple[str, Text]]:
    """All that scripts of a folder may say, each with the name of its file."""
    for file in sorted((STATIC / folder).glob("*.js")):
        for text in texts(file.read_text(encoding="utf-8")):
            yield file.name, text
