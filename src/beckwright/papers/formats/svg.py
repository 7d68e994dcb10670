"""A sheet as SVG: one user unit is one millimetre, words stay words, and the same sheet gives the same text.

Only what both typst and browsers draw alike is used: plain attributes, clip paths and paths. Hatches are written out
as lines. y runs down here, up in the drawing.
"""

from collections.abc import Iterable
from html import escape
from itertools import groupby

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray, IntArray
from beckwright.papers import fonts
from beckwright.papers.drawing import (
    WHITE,
    Circle,
    Hatch,
    HatchLine,
    Millimetres,
    Pen,
    Plain,
    Polyline,
    Sheet,
    Text,
    arc,
    plain,
    rectangle,
    seen,
)
from beckwright.papers.labels import text_base, text_box
from beckwright.papers.sight import about, meets

_DOWN = np.array((1.0, -1.0))
_CLEAR: Millimetres = 1e-6
"""An area that keeps so far from its rim is not cut by it."""
_ANCHOR = {"left": "", "middle": ' text-anchor="middle"', "right": ' text-anchor="end"'}


def write_svg(sheet: Sheet) -> str:
    """Write the sheet; JobError where words hold a character the font cannot draw."""
    paper = rectangle((0.0, 0.0), sheet.paper)
    groups = [(seen(view), view.window.outline()) for view in sheet.views]
    groups.append((tuple(part for mark in sheet.marks for part in plain(mark)), paper))
    _refuse_unprintable(sheet, (part for parts, _ in groups for part in parts))
    wide, high = (_number(length) for length in sheet.paper)
    clips = "".join(
        f'<clipPath id="{_clip_name(sheet, row)}"><path d="{_path(rim, sheet.paper[1], closed=True)}"/></clipPath>'
        for row, (_, rim) in enumerate(groups)
    )
    drawn = (_group(sheet, row, parts, rim) for row, (parts, rim) in enumerate(groups))
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide}mm" height="{high}mm" viewBox="0 0 {wide} {high}"'
        f' role="img" lang="{sheet.language}" font-family="{fonts.FAMILY}" fill="none" stroke-linejoin="round">'
    )
    words = f"<title>{_escaped(sheet.title)}</title>\n<desc>{_escaped(sheet.description)}</desc>"
    ground = f'<path fill="{WHITE}" d="{_path(paper, sheet.paper[1], closed=True)}"/>'
    return "\n".join((head, words, f"<defs>{clips}</defs>", ground, *drawn, "</svg>\n"))


def _refuse_unprintable(sheet: Sheet, parts: Iterable[Plain]) -> None:
    texts = dict.fromkeys(part.words for part in parts if isinstance(part, Text))
    problems = [
        Problem(
            place=f"sheet {sheet.name}",
            found=f"the words “{words}” hold {_named(missing)}",
            rule=f"{fonts.FAMILY} has no such character, and the whole line would change its typeface",
            remedy="write it with other characters, such as Ø (U+00D8) for a diameter",
        )
        for words in texts
        if (missing := fonts.unprintable(words))
    ]
    if problems:
        raise JobError(problems)


def _named(characters: set[str]) -> str:
    return ", ".join(f"U+{ord(character):04X}" for character in sorted(characters))


def _escaped(words: str) -> str:
    return escape(words, quote=False)


def _quoted(name: str) -> str:
    return '"' + _escaped(name).replace('"', "&quot;") + '"'


def _clip_name(sheet: Sheet, row: int) -> str:
    return "".join(letter if letter.isalnum() else "-" for letter in f"{sheet.name}-{row}")


def _group(sheet: Sheet, row: int, parts: tuple[Plain, ...], rim: FloatArray) -> str:
    high = sheet.paper[1]
    name = sheet.views[row].name if row < len(sheet.views) else "sheet"
    sight = about(rim)
    # Marks of the paper itself all lie on it.
    inside = (part for part in parts if meets(part, sight)) if row < len(sheet.views) else iter(parts)
    layers = (
        f"<g data-layer={_quoted(layer)}>\n{''.join(_drawn(part, rim, high) for part in same)}</g>\n"
        for layer, same in groupby(inside, key=lambda part: part.layer)
    )
    return f'<g data-view={_quoted(name)} clip-path="url(#{_clip_name(sheet, row)})">\n{"".join(layers)}</g>'


def _drawn(part: Plain, rim: FloatArray, high: Millimetres) -> str:
    match part:
        case Polyline():
            hatch = _hatched(part.points, part.hatch, rim, high) if part.hatch else ""
            path = f'<path{_fill(part.fill)}{_stroke(part.pen)} d="{_path(part.points, high, closed=part.closed)}"/>\n'
            return _layered(part, path, hatch)
        case Circle():
            ring = arc(part.at, part.radius, 0.0, 2.0 * np.pi)[:-1]
            hatch = _hatched(ring, part.hatch, rim, high) if part.hatch else ""
            at = f'cx="{_number(part.at[0])}" cy="{_number(high - part.at[1])}" r="{_number(part.radius)}"'
            return _layered(part, f"<circle{_fill(part.fill)}{_stroke(part.pen)} {at}/>\n", hatch)
        case Text():
            return _words(part, high)


def _layered(part: Polyline | Circle, shape: str, hatch: str) -> str:
    """Hatch over the fill; an area with neither fill nor pen is its hatch alone."""
    return (shape if part.fill or part.pen else "") + hatch


def _words(text: Text, high: Millimetres) -> str:
    east, north = text_base(text)
    box = f'<path fill="{WHITE}" d="{_path(text_box(text), high, closed=True)}"/>\n' if text.halo else ""
    x, y = _number(east), _number(high - north)
    weight = f' font-weight="{text.weight}"' if text.weight != 400 else ""
    narrow = f" style=\"font-variation-settings:'wdth' {fonts.NARROW}\"" if text.narrow else ""
    turn = f' transform="rotate({_number(-float(np.degrees(text.turn)))} {x} {y})"' if text.turn else ""
    at = f'x="{x}" y="{y}" font-size="{_number(fonts.size(text.height))}"'
    look = f"{weight}{narrow}{_ANCHOR[text.across]}{turn}"
    return f'{box}<text {at}{look} fill="{text.colour}">{_escaped(text.words)}</text>\n'


def _fill(fill: str | None) -> str:
    return f' fill="{fill}"' if fill else ""


def _stroke(pen: Pen | None) -> str:
    if pen is None:
        return ""
    dash = f' stroke-dasharray="{" ".join(map(_number, pen.dash))}"' if pen.dash else ""
    cap = ' stroke-linecap="round"' if 0.0 in pen.dash else ""
    return f' stroke="{pen.colour}" stroke-width="{_number(pen.width)}"{dash}{cap}'


def _path(points: FloatArray, high: Millimetres, *, closed: bool) -> str:
    # Adding nothing turns a minus nought into a nought.
    flipped = np.round(np.asarray(points, dtype=float) * _DOWN + np.array((0.0, high)), 3) + 0.0
    return "M" + "L".join(f"{x:.7g} {y:.7g}" for x, y in flipped.tolist()) + ("Z" if closed else "")


def _number(amount: float) -> str:
    return f"{round(amount, 3) + 0.0:.7g}"


def _hatched(ring: FloatArray, hatch: Hatch, rim: FloatArray, high: Millimetres) -> str:
    families = [_family(ring, family, rim) for family in hatch.lines]
    strokes = [each for each in families if each is not None]
    if not strokes:
        return ""
    ends = np.round(np.concatenate(strokes) * (1.0, -1.0, 1.0, -1.0) + (0.0, high, 0.0, high), 3) + 0.0
    path = "".join(f"M{a:.7g} {b:.7g}L{c:.7g} {d:.7g}" for a, b, c, d in ends.tolist())
    cap = ' stroke-linecap="round"' if any(0.0 in family.dash for family in hatch.lines) else ""
    return f'<path stroke="{hatch.pen.colour}" stroke-width="{_number(hatch.pen.width)}"{cap} d="{path}"/>\n'


def _family(ring: FloatArray, family: HatchLine, rim: FloatArray) -> FloatArray | None:
    """Give the strokes (n, 4) of one family of hatch lines inside a ring and the rim, line by line; None of no line.

    Worked where the lines are level: each cuts the ring in pairs of places (even and odd), and the rim in one pair.
    """
    cosine, sine = float(np.cos(family.angle)), float(np.sin(family.angle))
    back = np.array(((cosine, -sine), (sine, cosine)))
    area, sight = (_shut((each - family.base) @ back) for each in (ring, rim))
    low, high = max(area[:, 1].min(), sight[:, 1].min()), min(area[:, 1].max(), sight[:, 1].max())
    rows = np.arange(np.ceil(low / family.apart), np.floor(high / family.apart) + 1.0)
    if not len(rows):
        return None
    line, spans = _cuts(area, rows * family.apart)
    if not bool((ring > rim[0] + _CLEAR).all() and (ring < rim[2] - _CLEAR).all()):
        line, spans = _common(line, spans, *_cuts(sight, rows * family.apart))
    long = spans[:, 1] > spans[:, 0]
    line, spans = _dashes(line[long], spans[long], family.dash, rows * family.shift)
    up = rows[line] * family.apart
    level = np.column_stack((spans[:, 0], up, spans[:, 1], up))
    strokes: FloatArray = (level.reshape(-1, 2) @ back.T + family.base).reshape(-1, 4)
    return strokes


def _shut(ring: FloatArray) -> FloatArray:
    """Give the ring with its first point again at the end."""
    return np.concatenate((ring, ring[:1]))


def _cuts(ring: FloatArray, up: FloatArray) -> tuple[IntArray, FloatArray]:
    """Give where level lines go in and out of a shut ring: of which line each span is (n,), and the spans (n, 2)."""
    start, end = ring[:-1], ring[1:]
    line, side = np.nonzero((start[:, 1] <= up[:, None]) != (end[:, 1] <= up[:, None]))
    start, end = start[side], end[side]
    part = (up[line] - start[:, 1]) / (end[:, 1] - start[:, 1])
    along = start[:, 0] + part * (end[:, 0] - start[:, 0])
    # A line cuts a shut ring an even number of times, so no pair is of two lines.
    return line[::2], along[np.lexsort((along, line))].reshape(-1, 2)


def _common(line: IntArray, spans: FloatArray, lines: IntArray, sight: FloatArray) -> tuple[IntArray, FloatArray]:
    """Cut spans down to what is in sight of their line: of each of these ``lines`` one span, of others nothing."""
    kept = np.isin(line, lines)
    line, spans = line[kept], spans[kept]
    within = sight[np.searchsorted(lines, line)]
    return line, np.clip(spans, within[:, :1], within[:, 1:])


def _dashes(
    line: IntArray, spans: FloatArray, dash: tuple[Millimetres, ...], shift: FloatArray
) -> tuple[IntArray, FloatArray]:
    """Lay a dash pattern over spans (n, 2); it begins at the ``shift`` of the line each is of."""
    if not dash:
        return line, spans
    ends = np.concatenate([[0.0], np.cumsum(dash)])
    strokes, period = np.column_stack((ends[:-1:2], ends[1::2])), ends[-1]
    first, last = np.floor((spans - shift[line, None]) / period).T
    # Each span takes all turns of the pattern's first stroke, then of its second.
    turns = np.repeat((last - first).astype(int) + 1, len(strokes))
    run = np.repeat(np.arange(len(turns)), turns)
    span, stroke = np.divmod(run, len(strokes))
    turn = first[span] + (np.arange(len(run)) - (np.cumsum(turns) - turns)[run])
    along = (turn * period + shift[line[span]])[:, None] + strokes[stroke]
    within = spans[span]
    kept = (along[:, 1] >= within[:, 0]) & (along[:, 0] <= within[:, 1])
    return line[span[kept]], np.clip(along, within[:, :1], within[:, 1:])[kept]
