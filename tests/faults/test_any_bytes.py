"""Whatever bytes a job folder holds, reading gives a job or a job error: nothing else may come out."""

import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from beckwright.base.errors import JobError, Problem
from beckwright.job.new import write_new
from beckwright.job.read import read_job

FILES = ("job.toml", "survey.csv", "pumps.csv", "hoses.csv", "climate.csv", "edges.csv")
SETTINGS = settings(max_examples=150, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
JARGON = ("pydantic", "validat", "nonetype", "dict", "traceback")
TOKENS = [
    "nan", "inf", "-inf", "1e999", "-1", "0", "true", '""', '"\\u0001"', "[]", "{}", "[[1, 2]]", "1979-05-27",
    "9" * 400, "[", "]", '"', "'''", "#", "=", "\n", "\x00", "\x85", "\u2028", ",", ";", "\t", "[course]",
    "[[course.reaches]]", "a.b.c = 1\n", "0x10", "1_000", "'", "é", "🪨", "kind = 'pool'\n", "[flows]",
    "[reservoir.loads]\n",
]  # fmt: skip


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    folder = tmp_path_factory.mktemp("sound")
    write_new(folder)
    shutil.copy(Path(__file__).parents[2] / "examples" / "hazel_bank" / "climate.csv", folder)
    (folder / "edges.csv").write_text("chainage_m,left_m,right_m\n0,11.0,11.0\n8.2,10.2,10.2\n")
    text = (folder / "job.toml").read_text().replace("[source] ", '[climate]\nstation = "dry_east"\n\n[source] ')
    (folder / "job.toml").write_text(text)
    read_job(folder)
    return {name: (folder / name).read_bytes() for name in FILES}


def read_with(folder: Path, sound: dict[str, bytes], name: str, raw: bytes) -> None:
    for other, kept in sound.items():
        (folder / other).write_bytes(kept)
    (folder / name).write_bytes(raw)
    for problem in problems_of(folder):
        assert all((problem.place, problem.found, problem.rule, problem.remedy)), problem
        assert len(str(problem)) < 1200, "a message repeats no more of a file than a person can read"
        assert not any(word in str(problem).lower() for word in JARGON), problem


def problems_of(folder: Path) -> tuple[Problem, ...]:
    try:
        read_job(folder)
    except JobError as error:
        return error.problems
    return ()


@SETTINGS
@given(name=st.sampled_from(FILES), raw=st.binary(max_size=300))
@example(name="job.toml", raw=b"\xef\xbb\xbf")
@example(name="job.toml", raw=b"a=" + b"9" * 5000)
@example(name="job.toml", raw=b"[" * 3000)
@example(name="job.toml", raw=b"a={b=" * 2000)
@example(name="survey.csv", raw=b",,,,\n,,,,")
@example(name="survey.csv", raw=b'"')
def test_any_bytes(tmp_path: Path, sound: dict[str, bytes], name: str, raw: bytes) -> None:
    read_with(tmp_path, sound, name, raw)


@SETTINGS
@given(
    name=st.sampled_from(FILES),
    changes=st.lists(st.tuples(st.floats(0, 1), st.integers(0, 12), st.sampled_from(TOKENS)), min_size=1, max_size=4),
)
def test_a_sound_file_with_pieces_changed(
    tmp_path: Path, sound: dict[str, bytes], name: str, changes: list[tuple[float, int, str]]
) -> None:
    raw = sound[name]
    for where, length, token in changes:
        start = int(where * len(raw))
        raw = raw[:start] + token.encode() + raw[start + length :]
    read_with(tmp_path, sound, name, raw)


VALUES = st.recursive(
    st.sampled_from([*TOKENS[:14], "0.5", "250", '"run"', '"pebbles"', '"clay"']),
    lambda inner: st.lists(inner, max_size=3).map(lambda many: "[" + ", ".join(many) + "]"),
    max_leaves=6,
)


@SETTINGS
@given(row=st.floats(0, 1), written=VALUES)
def test_one_value_of_the_job_file_changed(tmp_path: Path, sound: dict[str, bytes], row: float, written: str) -> None:
    lines = sound["job.toml"].decode().split("\n")
    keyed = [place for place, line in enumerate(lines) if " = " in line and not line.startswith("#")]
    place = keyed[min(int(row * len(keyed)), len(keyed) - 1)]
    lines[place] = f"{lines[place].split(' = ')[0]} = {written}"
    read_with(tmp_path, sound, "job.toml", "\n".join(lines).encode())


CELLS = st.sampled_from(
    ["", "nan", "inf", "1e400", "-5", "1,5", "x", '"', "1_0", "1e-320", "\x07", " ", "ü", "9" * 500]
)


@SETTINGS
@given(
    name=st.sampled_from(FILES[1:]),
    rows=st.lists(st.lists(CELLS, max_size=7), max_size=6),
    mark=st.sampled_from(",;\t "),
)
def test_a_table_of_odd_cells(
    tmp_path: Path, sound: dict[str, bytes], name: str, rows: list[list[str]], mark: str
) -> None:
    head = next(line for line in sound[name].decode().split("\n") if line[0] != "#")
    raw = "\n".join([head.replace(",", mark), *(mark.join(row) for row in rows)])
    read_with(tmp_path, sound, name, raw.encode())
