"""The readings of the first morning as they were written: every row kept, what looks wrong asked about."""

from collections.abc import Iterator, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from statistics import median

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Duration, Flow, Length
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film import FLAT_OUT
from beckwright.job.tables.columns import Column, read_table
from beckwright.job.wording.sentences import near_miss, shown
from beckwright.readings.switch_on.kinds import KINDS, RUNNING, Kind
from beckwright.tables.switch_on import SPREAD_OF_BUCKETS, WATTS_OVER_PLATE

UNTOLD = -9999.0
COLUMNS = (
    Column(name="kind"),
    Column(name="flow", other=""),
    Column(name="place", other=""),
    Column(name="amount", low=-1000, high=1e6, other=UNTOLD),
    Column(name="seconds", low=-10, high=1e6, other=UNTOLD),
    Column(name="note", other=""),
)
CHECKED = "checked"
"""A note that begins so says: asked about, looked at again, right as it stands."""


@value
class Reading:
    """One row.

    amount    SI; 0 where the kind has none
    seconds   0 where the kind has none
    chainage  of its place; 0 where it has none
    line      of the file; of a page, its number
    """

    kind: str
    flow: str
    place: str
    amount: float
    seconds: Duration
    chainage: Length
    note: str
    line: int

    @property
    def checked(self) -> bool:
        """Whether a person has looked at it again and let it stand."""
        return self.note.strip().lower().startswith(CHECKED)


@value
class Doubt:
    """Something a person should be asked about; ``line`` of the reading."""

    line: int
    found: str
    asks: str


@value
class Readings:
    """All rows of a morning, what is to be asked, and the digest (SHA-256) of the file as it lies there."""

    rows: tuple[Reading, ...]
    doubts: tuple[Doubt, ...]
    digest: str


def read_switch_on(path: Path, design: Design) -> Readings:
    """Read the table. Raises JobError with every row that cannot be understood."""
    problems: list[Problem] = []
    table = read_table(path, COLUMNS, problems)
    if table is None:
        raise JobError(problems)
    rows = []
    for number, line in enumerate(table.lines):
        cells = {name: column[number] for columns in (table.texts, table.numbers) for name, column in columns.items()}
        made = row(cells, line, design, f"{table.file} line {line}")
        problems.extend(made if isinstance(made, list) else [])
        rows += [] if isinstance(made, list) else [made]
    if problems:
        raise JobError(problems)
    return gathered(rows, design, sha256(path.read_bytes()).hexdigest())


def gathered(rows: Sequence[Reading], design: Design, digest: str) -> Readings:
    """Rows with all that is to be asked about them."""
    return Readings(rows=tuple(rows), doubts=tuple(_odd(rows, design)), digest=digest)


def row(cells: Mapping[str, object], line: int, design: Design, where: str) -> Reading | list[Problem]:
    """One row from its cells, ``amount`` in the kind's own unit; or everything that keeps it from being understood."""
    name, flow, place = (str(cells[each]).strip() for each in ("kind", "flow", "place"))
    kind = KINDS.get(name)
    if kind is None:
        nearest = near_miss(name, KINDS)
        remedy = f"Write {nearest}" if nearest else "Write one of these"
        return [_problem(where, f"kind is {shown(name)}", f"A kind is one of {', '.join(KINDS)}", remedy)]
    amount, seconds = (float(str(cells[each])) for each in ("amount", "seconds"))
    chainage = _chainage(kind, place, design)
    problems = [*_flow(kind, flow, design, where), *_filled(kind, amount, seconds, where)]
    if isinstance(chainage, str):
        problems.append(_problem(where, f"place is {shown(place)}", chainage, "Write one of them"))
    if problems or isinstance(chainage, str):
        return problems
    return Reading(
        kind=name,
        flow=flow if name in RUNNING else "",
        place=place,
        amount=amount * kind.scale if kind.amount else 0.0,
        seconds=max(seconds, 0.0) if seconds != UNTOLD else 0.0,
        chainage=chainage,
        note=str(cells["note"]),
        line=line,
    )


def _chainage(kind: Kind, place: str, design: Design) -> Length | str:
    """Where it was read; or the rule that its place breaks."""
    if not kind.place:
        return 0.0
    length = design.course.length
    if kind.place == "chainage":
        rule = f"The place of {_a(kind.name)} is a chainage from 0 to {length:g} m"
        try:
            at = float(place.replace(",", "."))
        except ValueError:
            return rule
        return at if 0.0 <= at <= length else rule
    lips = {lip.name: lip.chainage for lip in design.water.lips}
    if kind.place == "lip or reservoir":
        lips["reservoir"] = length
    return lips.get(place, f"The place of {_a(kind.name)} is one of {', '.join(lips)}")


def _flow(kind: Kind, flow: str, design: Design, where: str) -> Iterator[Problem]:
    names = (*design.water.names, FLAT_OUT)
    if kind.name in RUNNING and flow not in names:
        yield _problem(
            where, f"flow is {shown(flow)}", f"A flow is one of {', '.join(names)}", "Name the setting it ran at"
        )
    if flow == FLAT_OUT and design.supply.chosen.flat_out is None:
        yield _problem(
            where, "flow is flat out", "By its table the pump cannot lift the water", "Mend the pump's table first"
        )


def _filled(kind: Kind, amount: float, seconds: float, where: str) -> Iterator[Problem]:
    if kind.amount and amount == UNTOLD:
        yield _problem(
            where, "amount is empty", f"{_a(kind.name).capitalize()} has an amount in {kind.amount}", "Write it"
        )
    if kind.name == "bucket" and amount != UNTOLD and amount <= 0:
        yield _problem(where, f"amount is {amount:g} L", "A bucket holds more than nothing", "Write its litres")
    if kind.seconds and seconds == UNTOLD:
        yield _problem(where, "seconds is empty", f"{_a(kind.name).capitalize()} has its seconds", "Write them")
    elif kind.seconds and (seconds < 0 or (seconds == 0 and kind.name != "reservoir")):
        yield _problem(where, f"seconds is {seconds:g}", "Seconds count from 0 at the start", "Look in the notebook")


def _odd(rows: Sequence[Reading], design: Design) -> Iterator[Doubt]:
    """What no arithmetic forbids and no stream does."""
    for name, asks in (("bucket", _buckets), ("reservoir", _levels), ("steady", _levels), ("rest", _levels)):
        yield from asks([each for each in rows if each.kind == name], design)
    most = float(design.job.pumps.chosen.watts.max()) * design.job.pumps.together
    for each in rows:
        if each.kind == "watts" and not most / 20 <= each.amount <= WATTS_OVER_PLATE.amount * most:
            yield Doubt(
                line=each.line,
                found=f"{each.amount:g} W, and the pump's table goes up to {most:.0f} W",
                asks="Was something else on the same meter, or was it read in another unit?",
            )
    yield from _backwards([each for each in rows if each.kind == "reservoir"])


def _buckets(rows: Sequence[Reading], design: Design) -> Iterator[Doubt]:
    pit, pumps = design.reservoir.pit, design.job.pumps
    most: Flow = float(pumps.chosen.flows[-1]) * pumps.together
    for each in rows:
        alike = [other.seconds / other.amount for other in rows if other.flow == each.flow]
        spread = each.seconds / each.amount / median(alike)
        if each.amount > pit.held(pit.overflow):
            found = (
                f"a bucket of {each.amount * 1000:g} L, and the reservoir holds {pit.held(pit.overflow) * 1000:.0f} L"
            )
            yield Doubt(line=each.line, found=found, asks="Millilitres for litres, or a slipped point?")
        elif each.amount / each.seconds > 1.3 * most:
            found = f"{each.amount * 1000:g} L in {each.seconds:g} s, more than the pump's table gives with no head"
            yield Doubt(line=each.line, found=found, asks="Minutes for seconds, or gallons for litres?")
        elif len(alike) > 2 and max(spread, 1 / spread) > SPREAD_OF_BUCKETS.amount:
            found = f"{each.seconds:g} s, where the middle one of {len(alike)} would take {each.seconds / spread:.1f} s"
            yield Doubt(line=each.line, found=found, asks="A mistyped minute, or another bucket?")


def _levels(rows: Sequence[Reading], design: Design) -> Iterator[Doubt]:
    pit = design.reservoir.pit
    full = pit.overflow - pit.floor
    for each in rows:
        if each.amount > full + 0.01:
            found = f"level {each.amount * 1000:g} mm, and the overflow lies {full * 1000:.0f} mm above the floor"
            yield Doubt(line=each.line, found=found, asks="Was it read from the floor, in millimetres?")
    least = (pit.pump_minimum - pit.floor) / 3
    if rows and max(each.amount for each in rows) < least:
        most = max(each.amount for each in rows) * 1000
        found = f"the levels go up to {most:g} mm in a reservoir {full * 1000:.0f} mm deep"
        yield from (Doubt(line=each.line, found=found, asks="Were they read in centimetres?") for each in rows)


def _backwards(rows: Sequence[Reading]) -> Iterator[Doubt]:
    latest: dict[str, float] = {}
    for each in rows:
        before = latest.get(each.flow, -1.0)
        if 0 < each.seconds <= before:
            found = f"{each.seconds:g} s after {before:g} s"
            yield Doubt(line=each.line, found=found, asks="A mistyped minute? A new start begins with 0 s")
        latest[each.flow] = each.seconds


def _problem(where: str, found: str, rule: str, remedy: str) -> Problem:
    return Problem(place=where, found=found, rule=rule, remedy=remedy)


def _a(name: str) -> str:
    return f"an {name}" if name[0] in "aeio" else f"a {name}"
