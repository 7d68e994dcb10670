"""A strip of the year: the reservoir's level day by day, rain hanging from the top, dry spell and frost below."""

from calendar import monthrange
from collections.abc import Iterator
from datetime import date

import numpy as np

from beckwright.base.quantities import FloatArray, Level
from beckwright.base.values import value
from beckwright.base.words import ends_outward, millimetres, opening, short_height, unit_called
from beckwright.compose import Design
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import BLACK, RED, Colour, Mark, Millimetres, Pen, Polyline, Sheet, Text, rectangle
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.papers.sheets.shared.frame import heading
from beckwright.stages.reservoir import Pit
from beckwright.stages.season import MONTHS, RealYear, Season

PAPER = (297.0, 118.0)
LEFT, RIGHT, TOP, LOW = 52.0, 287.0, 92.0, 34.0
RAIN_HIGH = 16.0
BAND, WET = "#D9D9D9", "#8C8C8C"
ALONE = Pen(width=0.5)
KEPT = Pen(width=0.25, dash=(1.6, 0.8))
OVERFLOW = Pen(width=0.35, dash=(1.6, 0.8))
LEAST = Pen(width=0.5, dash=(4.0, 1.5), colour=RED)


@value
class Frame:
    """The strip's ruler: days across, levels up."""

    count: int
    bottom: Level
    top: Level

    def across(self, days: FloatArray) -> FloatArray:
        """Millimetres of days from the first one's beginning."""
        return LEFT + (RIGHT - LEFT) * np.asarray(days, dtype=float) / self.count

    def up(self, level: FloatArray) -> FloatArray:
        """Millimetres of levels."""
        share = (np.asarray(level, dtype=float) - self.bottom) / max(self.top - self.bottom, 1e-6)
        return LOW + 3.0 + (TOP - RAIN_HIGH - 5.0 - LOW) * share


def season_strip(design: Design, season: Season) -> Sheet:
    """Draw the year of ``season`` for one design."""
    pit, days = design.reservoir.pit, season.by_day
    full = pit.held(pit.rested)
    least = np.sort(_levels(pit, full - days.spare))
    alone = _levels(pit, full + days.alone)
    kept = _levels(pit, full + days.kept[1:2])
    bottom = min(float(least[0]), pit.pump_minimum)
    strip = Frame(count=len(days.numbers), bottom=bottom, top=max(pit.overflow, pit.rested))
    job = design.job.title
    called = season.name or "a typical year"
    invented = " Invented demonstration job." if job.invented else ""
    return Sheet(
        name="season-strip",
        title=f"{job.name}: the reservoir through {called}",
        paper=PAPER,
        marks=(
            heading((10.0, PAPER[1] - 10.0), "The reservoir's level through the year", 3.5),
            fitted((10.0, PAPER[1] - 16.0), f"{job.name}. {opening(called)}.{invented}", 200.0, 2.2),
            *_rain(strip, days.rain),
            *_band(strip, alone, kept),
            *_lines(strip, pit, least),
            *_months(strip, season),
            *(_happened(strip, season, season.real.at(season.name)) if season.real else ()),
            *_key(),
        ),
        description="Level at the end of each day, as a band, where nobody fills up and where it is filled up; rain, "
        "the longest dry spell and frost.",
    )


def _levels(pit: Pit, volumes: FloatArray) -> FloatArray:
    levels: FloatArray = np.vectorize(pit.level_of, otypes=[float])(volumes)
    return levels


def _band(strip: Frame, alone: FloatArray, kept: FloatArray) -> Iterator[Mark]:
    at = strip.across(np.arange(1, alone.shape[1] + 1))
    low, high = (np.column_stack((at, strip.up(end))) for end in (alone.min(axis=0), alone.max(axis=0)))
    outline = np.concatenate((low, high[::-1]))
    yield Polyline(points=outline, layer="water", closed=True, fill=BAND)
    yield Polyline(points=np.column_stack((at, strip.up(kept[0]))), layer="water", pen=KEPT)
    yield Polyline(points=np.column_stack((at, strip.up(alone[1]))), layer="water", pen=ALONE)


def _rain(strip: Frame, rain: FloatArray) -> Iterator[Mark]:
    """Bars hanging from the top, the wettest day as long as there is room."""
    most = max(float(rain.max()), 1e-6)
    wide = (RIGHT - LEFT) / strip.count
    for day in np.flatnonzero(rain > 0).tolist():
        high = RAIN_HIGH * float(rain[day]) / most
        box = rectangle((float(strip.across(np.array(day))), TOP - high), (wide * 0.9, high))
        yield Polyline(points=box, layer="rain", closed=True, fill=WET)
    yield ruled((LEFT, TOP), (RIGHT, TOP), pens.THIN, "rain")
    yield fitted((LEFT - 2, TOP - 2.2), "rain of a day,", 40.0, 2.1, across="right")
    yield fitted((LEFT - 2, TOP - 5.6), f"at most {millimetres(most)}", 40.0, 2.1, across="right")


def _lines(strip: Frame, pit: Pit, least: FloatArray) -> Iterator[Mark]:
    """Overflow, rest level and where the pump draws air, each with its dip from the lid; words kept apart."""
    ends = ends_outward((pit.cover - float(least[2])) * 1000, (pit.cover - float(least[0])) * 1000, 1, "mm")
    told = (
        (np.array([pit.overflow]), f"overflow, {short_height(pit.cover - pit.overflow)}", OVERFLOW),
        (np.array([pit.rested]), f"full, at rest, {short_height(pit.cover - pit.rested)}", pens.THIN),
        (np.unique(least[[0, 2]]), f"pump stops, {' to '.join(dict.fromkeys(ends))}", LEAST),
    )
    below = TOP
    for levels, words, pen in told:
        up = strip.up(levels)
        for at in up.tolist():
            yield ruled((LEFT, at), (RIGHT, at), pen, "levels")
        below = min(float(up.mean()) - 0.9, below - 3.4)
        yield _named(below, words, RED if pen is LEAST else BLACK)
    yield fitted((LEFT - 2, LOW - 5.0), f"{unit_called('mm')} down from the lid", 44.0, 1.9, across="right")


def _named(up: Millimetres, words: str, colour: Colour) -> Text:
    return fitted((LEFT - 2, up), words, 48.0, 2.1, across="right", colour=colour, weight=600)


def _months(strip: Frame, season: Season) -> Iterator[Mark]:
    first = date.fromordinal(int(season.by_day.numbers[0])) if season.real else date(2001, 1, 1)
    year, month, gone = first.year, first.month, 0
    for _ in range(12):
        left, long = float(strip.across(np.array(gone))), monthrange(year, month)[1]
        middle = (left + float(strip.across(np.array(gone + long)))) / 2
        yield ruled((left, LOW - 3.0), (left, LOW), pens.THIN, "months")
        yield Text(at=(middle, LOW - 3.2), words=MONTHS[month - 1][:3], height=2.1, across="middle", layer="months")
        gone, year, month = gone + long, year + month // 12, month % 12 + 1
    yield ruled((LEFT, LOW), (RIGHT, LOW), pens.THIN, "months")


def _happened(strip: Frame, season: Season, year: RealYear) -> Iterator[Mark]:
    """Dry spell and frost as bars under the months; the wettest day above."""
    first = int(season.by_day.numbers[0])
    spell, frost = year.spell, year.frost
    if spell is not None:
        words = f"longest dry spell, {spell.days} days"
        yield from _bar(strip, max(spell.first - first, 0), spell.last - first + 1, LOW - 9.0, words)
    if frost.first is not None and frost.last is not None:
        last, until = frost.last - first + 1, frost.first - first
        if last < until:
            yield from _bar(strip, last, until, LOW - 14.5, f"no frost between {frost.told[1]} and {frost.told[0]}")
    at = float(strip.across(np.array(year.storm.day - first + 0.5)))
    low, high = (float(end) for end in (year.storm.over.min(), year.storm.over.max()))
    over = " to ".join(dict.fromkeys(ends_outward(low * 1000, high * 1000, 10, "L")))
    words = f"{date.fromordinal(year.storm.day)}: {millimetres(year.storm.rain)}, {over} {unit_called('L')} over"
    words = words if high > 0 else f"{date.fromordinal(year.storm.day)}: {millimetres(year.storm.rain)}, nothing over"
    half = fonts.width(words, 2.1) / 2
    yield fitted((min(max(at, LEFT + half), RIGHT - half), TOP + 1.5), words, 120.0, 2.1, across="middle")


def _bar(strip: Frame, start: int, stop: int, up: Millimetres, words: str) -> Iterator[Mark]:
    left, right = (float(strip.across(np.array(day))) for day in (start, stop))
    yield Polyline(points=rectangle((left, up), (right - left, 1.2)), layer="spells", closed=True, fill=BLACK)
    if RIGHT - right > fonts.width(words, 2.1) + 3:
        yield Text(at=(right + 2, up - 0.4), words=words, height=2.1, layer="spells")
    else:
        yield Text(at=(left - 2, up - 0.4), words=words, height=2.1, layer="spells", across="right")


def _key() -> Iterator[Mark]:
    at = 11.0
    yield ruled((LEFT, at + 0.8), (LEFT + 10, at + 0.8), ALONE, "key")
    yield Text(
        at=(LEFT + 12, at), words="where nobody fills up, full on the first day; grey: least to most lost", height=2.1
    )
    yield ruled((LEFT + 130, at + 0.8), (LEFT + 140, at + 0.8), KEPT, "key")
    yield Text(at=(LEFT + 142, at), words="filled up to the rest level each day", height=2.1)
