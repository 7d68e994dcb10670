"""A phrasebook: English phrases with holes, each with what it becomes.

``"{} lies {#} mm low"`` has a hole for any words and one for a number; ``{=}`` is one for a name, which stays as it is;
``{2}`` in what it becomes takes the second hole wherever it stands. What fills a hole is said by the phrasebook too, so
that bands and names of parts follow. A text no phrase holds is said sentence by sentence, and then by what stands
between its commas; what is in no phrase stays in English. A phrase all of whose holes are held goes before one that
leaves an English word in its middle: that is only taken for want of any other.

``web/static/shared/say.js`` does the same in the browser; tests hold the two against each other.
"""

import re
import tomllib
from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

FOLDER = Path(__file__).parent
LANGUAGES: Mapping[str, str] = {"en": "English", "de": "Deutsch"}
"""Code (BCP 47) and its own name of each language there is a file for; English needs none."""

NUMBER = "[\u2212+±-]?\\d[\\d\u2009\u202f]*(?:\\.\\d+)?(?: \\d+/\\d+)?"
UNITS = (
    "mm|cm|mm²|cm²|m²|m³|m2|m3|Pa|kPa|kN|kg|kWh|VA|mA|mV|GBP|EUR|USD"
    "|ha|min|dB|MB|in|ft|ft²|yd³|gal|lb|psi|OD|PVC|XLPE|IPX8|UK|US"
)
"""What stands beside figures and is the same in every language; single letters are, too."""
LEAST_OWN = 6
"""A phrase with fewer letters of its own is not taken where one of its holes is in no phrase."""
MOST_KEPT = 1 << 16
"""Texts whose saying is kept: numbers change all day, and a server stays open for days."""
_HOLE = re.compile(r"\{(#|=|\d+)?\}")
_LONE_DECIMAL = re.compile(r"(?<![\w.])([\u2212+±-]?\d[\d\u2009\u202f]*)\.(\d+)(?![\w.])")
_LISTED = re.compile(r"(?<=\d), (?=[\u2212+±-]?\d)")
_BETWEEN = re.compile(r"[\s,;:()/%°×=±–…*·↓]+")
_NEUTRAL = re.compile(
    rf"[\u2212+-]?\d+(?:\.\d+)*|{UNITS}|[A-Z]{{0,3}}-?\d+|[A-Za-z]|[a-d]{{2}}|[.\u2212-]*|[a-z][a-z0-9]*(?:[._][a-z0-9]+)+"
)
"""A figure, a unit, a letter, the number of a thing, a key or a file: the same in every language but for decimals."""
_RATIO = re.compile(r"\d in \d")
"""A grade such as 1 in 40, that is no length in inches."""
_A_NAME, _QUOTED = r"((?:(?![.!?]\s).)+?)", r"([^\"]+)"
_SENTENCES = re.compile(r"(?<=[.!?])\s+")
_PIECES = re.compile(r"(: |; |, \(|, | \(|\)|\n)(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)")
"""What stands between pieces of a sentence; what somebody is quoted with is one piece."""
_FIRST_WORD = re.compile(r"[^\s{]+")


class Said(str):
    """Words that have been said in a language already: saying them again leaves them as they are."""

    __slots__ = ()


class _Pattern(NamedTuple):
    """A phrase with holes.

    needle  its longest stretch without one: where that is missing nothing need be matched
    names   which of its holes are names
    own     how many letters it has besides its holes
    """

    needle: str
    find: re.Pattern[str]
    becomes: str
    names: tuple[bool, ...]
    own: int


class _Told(NamedTuple):
    """How words are said, and what of them is in no phrase."""

    said: str
    missing: tuple[str, ...]


class Phrasebook:
    """The phrases of one language.

    name     what the language calls itself
    phrases  English to its own
    decimal  what stands before the tenths
    """

    def __init__(self, name: str, phrases: Mapping[str, str], decimal: str) -> None:
        self.name, self.phrases, self.decimal = name, dict(phrases), decimal
        self._patterns: dict[str, list[_Pattern]] = defaultdict(list)
        self._told: dict[str, _Told] = {}
        # The phrase with the most words of its own is the closest: it is tried first.
        for english in sorted(filter(_HOLE.search, self.phrases), key=lambda each: -len(_HOLE.sub("", each))):
            self._patterns[_bucket(english)].append(_pattern(english, self.phrases[english]))

    def say(self, words: str) -> str:
        """The words in this language, as far as its phrases go."""
        return self._tell(words).said

    def missing(self, words: str) -> tuple[str, ...]:
        """What of the words no phrase holds."""
        return self._tell(words).missing

    def _tell(self, words: str) -> _Told:
        told = self._told.get(words)
        if told is None:
            told = self._found(words)
            if len(self._told) >= MOST_KEPT:
                self._told.clear()
            self._told[words] = told
        return told

    def _found(self, words: str) -> _Told:
        bare = words.strip()
        if not bare or _neutral(bare) or not any(map(str.isalpha, bare)):
            return _Told(self._figures(words), ())
        whole = self._whole(bare, every_hole=True)
        if whole is not None:
            return _around(words, bare, whole)
        sentences = _SENTENCES.split(bare)
        if len(sentences) > 1:
            told = [self._tell(each) for each in sentences]
            together = _Told(
                " ".join(each.said for each in told), tuple(piece for each in told for piece in each.missing)
            )
        else:
            together = self._piece_by_piece(bare) or self._whole(bare, every_hole=False) or _Told(bare, (bare,))
        return _around(words, bare, together)

    def _figures(self, words: str) -> str:
        """Figures with this language's decimal mark; where that is a comma another one cannot part them."""
        said = _LONE_DECIMAL.sub(rf"\g<1>{self.decimal}\g<2>", words)
        return _LISTED.sub("; ", said) if said != words and self.decimal == "," else said

    def _piece_by_piece(self, words: str) -> _Told | None:
        """A sentence by what stands between its commas; half in one language is worse than either, so all or none."""
        stop = words[-1:] if words[-1:] in ".:!?" and len(words) > 1 else ""
        whole = self._whole(words[:-1], every_hole=True) if stop else None
        if whole is not None:
            return _Told(whole.said + stop, whole.missing)
        pieces = [each for each in _PIECES.split(words[: len(words) - len(stop)]) if each]
        if len(pieces) == 1 and not stop:
            return None
        told = [_Told(each, ()) if _PIECES.fullmatch(each) else self._tell(each) for each in pieces]
        if any(each.missing for each in told):
            return None
        return _Told("".join(each.said for each in told) + stop, ())

    def _whole(self, words: str, *, every_hole: bool) -> _Told | None:
        """The words by one phrase; one with a hole in no phrase only where ``every_hole`` does not matter."""
        for english, finish in ((words, str), (words[:1].lower() + words[1:], _opening)):
            said = self.phrases.get(english)
            told = _Told(said, ()) if said is not None else self._by_pattern(english, every_hole=every_hole)
            if told is not None:
                return _Told(finish(told.said), told.missing)
        return None

    def _by_pattern(self, words: str, *, every_hole: bool) -> _Told | None:
        for pattern in self._near(words):
            if not every_hole and pattern.own < LEAST_OWN:
                continue
            found = pattern.find.fullmatch(words) if pattern.needle in words else None
            if found is None:
                continue
            held = [
                _Told(each, ()) if name else self._tell(each)
                for each, name in zip(found.groups(), pattern.names, strict=True)
            ]
            missing = tuple(piece for each in held for piece in each.missing)
            if not missing or not every_hole:
                return _Told(_filled(pattern.becomes, [each.said for each in held]), missing)
        return None

    def _near(self, words: str) -> Iterator[_Pattern]:
        yield from self._patterns.get(_bucket(words), ())
        yield from self._patterns.get("", ())


@cache
def phrasebook(language: str) -> Phrasebook:
    """The phrasebook of a language by its code, such as ``de``. Raises KeyError for one there is no folder for."""
    if language == "en" or language not in LANGUAGES:
        raise KeyError(language)
    phrases: dict[str, str] = {}
    for room in rooms(language).values():
        phrases |= room.get("phrases", {})
    return Phrasebook(LANGUAGES[language], phrases, rooms(language)["words"]["about"]["decimal"])


@cache
def rooms(language: str) -> dict[str, dict[str, Any]]:
    """The files of a language by their names, one for each room of the house, as they are written."""
    files = sorted((FOLDER / language).glob("*.toml"))
    return {file.stem: tomllib.loads(file.read_text(encoding="utf-8")) for file in files}


def _neutral(words: str) -> bool:
    return not _RATIO.search(words) and all(_NEUTRAL.fullmatch(each.rstrip(".")) for each in _BETWEEN.split(words))


def _pattern(english: str, becomes: str) -> _Pattern:
    pieces = _HOLE.split(english)
    texts, holes = pieces[::2], pieces[1::2]
    made, own = re.escape(texts[0]), sum(map(len, texts))
    for hole, before, text in zip(holes, texts, texts[1:], strict=False):
        name = _QUOTED if before.endswith('"') and text.startswith('"') else _A_NAME
        made += {"#": f"({NUMBER})", "=": name}.get(hole, "(.+?)") + re.escape(text)
    return _Pattern(
        needle=max(texts, key=len),
        find=re.compile(made, re.DOTALL),
        becomes=becomes,
        # A name among so few letters could be any words.
        names=tuple(hole == "=" and own >= LEAST_OWN for hole in holes),
        own=own,
    )


def _filled(becomes: str, held: list[str]) -> str:
    turn = iter(held)
    return _HOLE.sub(lambda hole: held[int(hole[1]) - 1] if (hole[1] or "#").isdigit() else next(turn), becomes)


def _around(words: str, bare: str, told: _Told) -> _Told:
    return told if words == bare else _Told(words.replace(bare, told.said), told.missing)


def _bucket(words: str) -> str:
    """The first word where it is whole; a phrase that begins with a hole has none."""
    found = _FIRST_WORD.match(words)
    return found[0] if found and not words[found.end() :].startswith("{") else ""


def _opening(words: str) -> str:
    return words[:1].upper() + words[1:]
