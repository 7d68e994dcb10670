"""What a tired builder gets wrong: each fault gives its place, its key words, and a job error; never anything else."""

import shutil
from pathlib import Path

import pytest

from beckwright.base.errors import JobError
from beckwright.job.new import write_new
from beckwright.job.read import read_job

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A new job with climate and edges beside it, so that every file a job may have is there."""
    write_new(tmp_path)
    shutil.copy(EXAMPLES / "hazel_bank" / "climate.csv", tmp_path)
    (tmp_path / "edges.csv").write_text("chainage_m,left_m,right_m\n0,11.0,11.0\n8.2,10.2,10.2\n")
    replace(tmp_path / "job.toml", "[source] ", '[climate]\nstation = "dry_east"\n\n[source] ')
    return tmp_path


def replace(path: Path, old: str, new: str) -> None:
    text = path.read_text()
    assert old in text, f"the test changes what is not there: {old}"
    path.write_text(text.replace(old, new, 1))


def problems_of(folder: Path) -> list[str]:
    with pytest.raises(JobError) as caught:
        read_job(folder)
    return [str(problem) for problem in caught.value.problems]


def test_the_job_these_tests_break_is_sound(job: Path) -> None:
    assert read_job(job).climate is not None


TOML_FAULTS = [
    # what is wrong, what stands there, what is written instead, place, words
    ("text for a number", "drop_mm = 270", 'drop_mm = "270"', "reaches.2.drop_mm", ['"270"', "a number", "in mm"]),
    ("true for a number", "drop_mm = 270", "drop_mm = true", "course.reaches.2.drop_mm", ["true", "a number"]),
    ("number for a text", 'name = "nail in the house step"', "name = 7", "datum.name", ["a text in quotes"]),
    ("not a number", "drop_mm = 270", "drop_mm = nan", "course.reaches.2.drop_mm", ["nan", "finite"]),
    ("infinite", "topsoil_mm = 200", "topsoil_mm = inf", "site.topsoil_mm", ["inf", "finite"]),
    ("negative", "drop_mm = 270", "drop_mm = -270", "course.reaches.2.drop_mm", ["-270 mm", "at least 20 mm"]),
    ("zero length", "length_m = 3.5", "length_m = 0", "course.reaches.1.length_m", ["0 m", "at least 0.1 m"]),
    ("negative flow", "full = 6000", "full = -6000", "flows.full", ["-6000", "at least 1"]),
    ("huge", "full = 6000", f"full = 1{'0' * 400}", "flows.full", ["huge"]),
    ("metres for mm", "width_mm = 500", "width_mm = 0.5", "course.reaches.1.width_mm", ["0.5 mm", "at least 50 mm"]),
    ("misspelt key", "drop_mm = 270", "dropmm = 270", "course.reaches.2.dropmm", ["not a key", "drop_mm"]),
    ("missing key", "drop_mm = 270\n", "", "course.reaches.2.drop_mm", ["missing", "height from the lip"]),
    ("unknown section", "[pump]", "[pumpe]", "pumpe", ["not a key", "mean pump"]),
    ("soil not known", 'soil = "clay"', 'soil = "klay"', "site.soil", ['"klay"', 'mean "clay"']),
    ("lip not known", 'lip = "round edge"', 'lip = "round"', "course.reaches.2.lip", ['mean "round edge"']),
    ("reach not known", 'kind = "pool"', 'kind = "pond"', "course.reaches.3", ['"pond"', '"run", a "step"']),
    ("no flows", "trickle = 1500\neveryday = 4000\nfull = 6000\n", "", "flows", ["at least 1"]),
    ("equal flows", "full = 6000", "full = 4000", "flows.full", ["everyday", "4000 l/h"]),
    ("half a pump", "together = 1", "together = 1.5", "pump.together", ["a whole number"]),
    ("voids of nothing", "voids = 0.95", "voids = 0.0", "reservoir.voids", ["at least 0.01"]),
    ("voids beyond", "voids = 0.40 ", "voids = 1.40 ", "beds.pebbles.voids", ["at most 0.99"]),
    ("solid crates", "voids = 0.95", "voids = 1", "reservoir.voids", ["takes up room"]),
    ("control character", 'client = ""', 'client = "a\\u0007b"', "job.client", ["cannot be printed"]),
    ("falls", "end_level_m = 10.03", "end_level_m = 9.93", "course.end_level_m", ["820 mm", "920 mm", "Add 100 mm"]),
    ("unknown pump", 'chosen = "pump A"', 'chosen = "pump B"', "pump.chosen", ['"pump B"', 'mean "pump A"']),
    ("unknown hose", 'chosen = "spiral 50"', 'chosen = "rubber"', "hose.chosen", ['"rubber"', "spiral 38, spiral 50"]),
    ("unknown bed", 'bed = "pebbles"', 'bed = "gravel"', "course.reaches.1.bed", ['"gravel"', "pebbles"]),
    ("unknown flow", 'flow = "everyday"', 'flow = "evryday"', "running.1.flow", ['mean "everyday"']),
    ("unknown fitting", '"exit" = 1', '"exi" = 1', "hose.fittings.exi", ['mean "exit"']),
    ("unknown station", 'station = "dry_east"', 'station = "moon"', "climate.station", ['"moon"', "dry_east"]),
    ("unknown doubt", '"beds.pebbles.voids"', '"bed.pebbles.voids"', "job.doubts", ['mean "beds.pebbles.voids"']),
    ("outside the survey", "[8.0, 0.0]", "[15.0, 0.0]", "course.line_m.1", ["leaves the survey at 0.00 m", "3.00 m"]),
    ("far reservoir", "centre_m = [-1.4, -0.3]", "centre_m = [-6.2, -0.3]", "reservoir.centre_m", ["3.00 m outside"]),
    ("coincident points", "[2.0, -0.6]", "[4.0, 0.21]", "course.line_m.4", ["points 3 and 4", "10 mm apart"]),
    ("line crosses", "[0.0, -0.4]", "[6.0, -0.6],\n  [6.0, 2.0]", "course.line_m", ["crosses itself"]),
    ("too short for a run", "length_m = 3.5", "length_m = 7.9", "course.reaches.4", ["run 2", "at least 0.1 m"]),
    ("sill outside", "sills_m = [1.8]", "sills_m = [3.8]", "course.reaches.1.sills_m", ["3.8 m", "0 to 3.50 m"]),
    ("sills turned round", "sills_m = [1.8]", "sills_m = [2.8, 1.8]", "course.reaches.1.sills_m", ["out of order"]),
    ("wide lip", "lip_width_mm = 450", "lip_width_mm = 650", "reaches.2.lip_width_mm", ["650 mm", "run 1", "500 mm"]),
    ("wide source", "lip_width_mm = 400", "lip_width_mm = 600", "source.lip_width_mm", ["600 mm", "500 mm"]),
    ("no crates", "crate_layers = 2\n", "", "reservoir.fill", ["crate_layers", "missing"]),
    ("dry pump", "below_cover_mm = 150", "below_cover_mm = 950", "pump_depth_mm", ["920 mm", "950 mm"]),
    ("no fall", "fall_mm = 230", "fall_mm = 0", "course.reaches.1.fall_mm", ["at least 1 mm a metre", "a pool"]),
    ("too steep", "fall_mm = 320", "fall_mm = 9000", "fall_mm", ["as far as it is long", "a step"]),
    ("source below", "lip_level_m = 10.85", "lip_level_m = 8.0", "source.lip_level_m", ["lets go at", "overflows at"]),
    ("number for a date", "\ndate = ", "\ndate = 5  # ", "job.date", ["a date such as"]),
    ("no load", "person_kg = 100\n", "", "reservoir.loads.1", ["no weight"]),
    ("two weights", "person_kg = 100", "person_kg = 100\nwheel_kn = 1", "reservoir.loads.1", ["wheel_kn and person"]),
    ("no stem", "stem_mm = 150 ", "# ", "trees.1", ["no stem"]),
    ("stones turned", "size_mm = [20, 60]", "size_mm = [60, 20]", "beds.pebbles.size_mm", ["smaller size comes first"]),
    ("day too long", "hours_per_day = 10", "hours_per_day = 25", "running.1.hours_per_day", ["25", "at most 24"]),
    ("three sizes", "size_mm = [20, 60]", "size_mm = [20, 60, 80]", "beds.pebbles.size_mm", []),
    ("point of one number", "[8.0, 0.0]", "[8.0]", "course.line_m.1", ["too few"]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "place", "words"), [row[1:] for row in TOML_FAULTS], ids=[r[0] for r in TOML_FAULTS]
)
def test_a_fault_in_the_job_file(job: Path, old: str, new: str, place: str, words: list[str]) -> None:
    replace(job / "job.toml", old, new)
    found = [problem for problem in problems_of(job) if place in problem.split(": ")[0]]
    assert found, f"nothing said of {place}: {problems_of(job)}"
    assert any(all(word in problem for word in words) for problem in found), found
    assert all(" line " in problem for problem in found), "each has its line"


REACH_ORDERS = [
    (["run", "step", "step", "run"], "stands on the spot"),
    (["step", "run"], "stands on the spot of the source's lip"),
    (["run", "pool", "pool", "run"], "one pool"),
    (["pool", "run"], "drown it"),
    (["run", "step", "pool"], "ends the course"),
]


@pytest.mark.parametrize(("kinds", "word"), REACH_ORDERS)
def test_reaches_that_cannot_follow_one_another(job: Path, kinds: list[str], word: str) -> None:
    written = {
        "run": f"length_m = {8.248 / kinds.count('run'):.3f}\nfall_mm = 100\nwidth_mm = 500\nbed = 'pebbles'",
        "step": "drop_mm = 200\nlip_width_mm = 300\nlip = 'flat slab'",
        "pool": "length_m = 0.1\nwidth_mm = 500\ndepth_mm = 100",
    }
    text = (job / "job.toml").read_text()
    before, after = text.index("[[course.reaches]]"), text.index("[beds.pebbles]")
    reaches = "".join(f'[[course.reaches]]\nkind = "{kind}"\n{written[kind]}\n\n' for kind in kinds)
    (job / "job.toml").write_text(text[:before] + reaches + text[after:])
    replace(job / "job.toml", "end_level_m = 10.03", "# end_level_m = 10.03")
    found = problems_of(job)
    assert len(found) == 1, found
    assert word in found[0]


SYNTAX_FAULTS = [
    ("decimal comma", "side_slope = 0.5 ", "side_slope = 0,5 ", ["column", "decimals with a point"]),
    ("open quotes", 'name = "T1"', 'name = "T1', ["column", "quotes"]),
    ("no quotes", 'name = "T1"', "name = T1", ["column", "quotes"]),
    ("no equals", "together = 1", "together 1", ["followed by ="]),
    ("twice", "together = 1", "together = 1\ntogether = 2", ["stands once"]),
    ("open list", "notes = []", "notes = [", ["]"]),
]


@pytest.mark.parametrize(("old", "new", "words"), [row[1:] for row in SYNTAX_FAULTS], ids=[r[0] for r in SYNTAX_FAULTS])
def test_a_file_that_does_not_parse_says_where(job: Path, old: str, new: str, words: list[str]) -> None:
    replace(job / "job.toml", old, new)
    found = problems_of(job)
    assert len(found) == 1
    assert found[0].startswith("job.toml line ")
    assert all(word in found[0] for word in words), found


def test_brackets_nested_without_end(job: Path) -> None:
    (job / "job.toml").write_text("a = " + "[" * 5000)
    assert any("nested" in problem or "brackets" in problem.lower() for problem in problems_of(job))


HEAD = b"id,x_m,y_m,z_m\n"
CURVE = b"pump,flow_l_h,head_m,power_w\n"
HOSE = b"hose,bore_mm,wall\n"
CLIMATE = b"station,month,rain_mm,open_water_evaporation_mm\n"
FILE_FAULTS = [
    ("missing column", "survey.csv", b"id,x_m,z_m\na,1,2\n", "survey.csv line 1", ["y_m is missing"]),
    ("misnamed column", "survey.csv", b"id,x_m,y_m,level_m\na,1,2,3\n", "survey.csv line 1", ["z_m is missing"]),
    ("column twice", "survey.csv", b"id,x_m,y_m,z_m,z_m\na,1,2,3,4\n", "survey.csv line 1", ["z_m stands twice"]),
    ("word for a number", "survey.csv", HEAD + b"a,1,two,3\n", "survey.csv line 2", ['y_m is "two"']),
    ("not a number", "survey.csv", HEAD + b"a,1,nan,3\n", "survey.csv line 2", ["y_m is nan", "finite"]),
    ("infinite", "survey.csv", HEAD + b"a,1,inf,3\n", "survey.csv line 2", ["y_m is inf", "finite"]),
    ("empty cell", "survey.csv", HEAD + b"a,1,,3\n", "survey.csv line 2", ["y_m is empty"]),
    ("repeated id", "survey.csv", HEAD + b"a,0,0,3\na,9,0,3\nb,0,9,3\n", "survey.csv line 3", ['"a"', "line 2"]),
    ("coincident", "survey.csv", HEAD + b"a,0,0,3\nb,9,0,3\nc,9,0.004,3\n", "survey.csv line 4", ['"c"', '"b"']),
    ("equal", "survey.csv", HEAD + b"a,0,0,3\nb,9,0,3\nc,9,0,3\n", "survey.csv line 4", ['"c"', '"b"']),
    ("two points", "survey.csv", HEAD + b"a,0,0,3\nb,9,0,3\n", "survey.csv", ["2 points", "three"]),
    ("in a line", "survey.csv", HEAD + b"a,0,0,3\nb,9,9,3\nc,5,5,3\n", "survey.csv", ["in one line"]),
    ("in mm", "survey.csv", HEAD + b"a,0,0,3\nb,9000,0,3\nc,0,9000,3\n", "survey.csv", ["9000 m wide", "metres"]),
    ("lone breakline", "survey.csv", HEAD[:-1] + b",breakline\na,0,0,3,wall\nb,9,0,3,\nc,0,9,3\n", "2", ['"wall"']),
    ("stray comma", "survey.csv", HEAD + b"a,1,5,2,5,3\n", "survey.csv line 2", ["6 cells"]),
    ("open quotes", "survey.csv", HEAD + b'"oak,1,2,3\n', "survey.csv line 2", ["not closed"]),
    ("rows missing", "survey.csv", HEAD, "survey.csv", ["no rows"]),
    ("empty", "survey.csv", b"", "survey.csv", ["empty"]),
    ("comments only", "survey.csv", b"# nothing\n", "survey.csv", ["nothing but comments"]),
    ("huge line", "survey.csv", HEAD + b"a" * 10_001 + b",1,2,3\n", "survey.csv line 2", ["10007 characters"]),
    ("zip", "survey.csv", b"PK\x03\x04" + b"\x00" * 40, "survey.csv", ["zip"]),
    ("gzip", "survey.csv", b"\x1f\x8b\x08\x00abc", "survey.csv", ["gzip"]),
    ("binary", "survey.csv", b"id,x_m\x00\x01\x02", "survey.csv", ["binary"]),
    ("two-byte text", "survey.csv", HEAD.decode().encode("utf-16"), "survey.csv", ["UTF-8"]),
    ("other encoding", "survey.csv", HEAD + b"\xe9,1,2,3\n", "survey.csv line 2", ["encoding", "UTF-8"]),
    ("binary job", "job.toml", b"\x89PNG\r\n\x1a\n\x00\x00", "job.toml", ["binary"]),
    ("empty job", "job.toml", b" \n", "job.toml", ["empty"]),
    ("flat curve", "pumps.csv", CURVE + b"pump A,0,3,9\npump A,9,3,9\n", "line 3", ["must fall"]),
    ("turned curve", "pumps.csv", CURVE + b"pump A,9,3,9\npump A,0,2,9\n", "line 3", ["must rise"]),
    ("one-row curve", "pumps.csv", CURVE + b"pump A,9,3,9\n", "pumps.csv line 2", ["two rows"]),
    ("wall", "hoses.csv", HOSE + b"spiral 50,50,spirel\n", "hoses.csv line 2", ['mean "spiral"']),
    ("hose twice", "hoses.csv", HOSE + b"a,50,spiral\na,38,spiral\n", "hoses.csv line 3", ['"a"', "line 2"]),
    ("bore in m", "hoses.csv", HOSE + b"spiral 50,0.05,spiral\n", "hoses.csv line 2", ["0.05 mm", "5 to 1000 mm"]),
    ("half a year", "climate.csv", CLIMATE + b"dry_east,Jan,1,1\n", "climate.csv", ["twelve"]),
    ("back upstream", "edges.csv", b"chainage_m,left_m,right_m\n1,9,9\n0,9,9\n", "edges.csv line 3", ["0 m after 1 m"]),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "raw", "place", "words"), [row[1:] for row in FILE_FAULTS], ids=[row[0] for row in FILE_FAULTS]
)
def test_a_fault_in_a_file(job: Path, name: str, raw: bytes, place: str, words: list[str]) -> None:
    (job / name).write_bytes(raw)
    found = [problem for problem in problems_of(job) if place in problem.split(": ")[0]]
    assert any(all(word in problem for word in words) for problem in found), problems_of(job)


@pytest.mark.parametrize("name", ["job.toml", "survey.csv", "pumps.csv", "hoses.csv", "climate.csv"])
def test_a_missing_file_and_a_folder_in_its_place(job: Path, name: str) -> None:
    (job / name).unlink()
    assert (
        any(problem.startswith(f"{name}: there is no such file") for problem in problems_of(job)) or name == "job.toml"
    )
    (job / name).mkdir()
    assert any(problem.startswith(f"{name}: it is a folder") for problem in problems_of(job))


def test_no_folder(tmp_path: Path) -> None:
    assert "no such folder" in problems_of(tmp_path / "nowhere")[0]
    (tmp_path / "file").write_text("")
    assert "no such folder" in problems_of(tmp_path / "file")[0]


def test_many_faults_in_one_table_are_counted(job: Path) -> None:
    (job / "survey.csv").write_text("id,x_m,y_m,z_m\n" + "".join(f"p{row},{row},x,1\n" for row in range(500)))
    found = problems_of(job)
    assert len(found) == 21
    assert "480 more" in found[-1]


def test_a_job_with_seven_faults_reports_seven(job: Path) -> None:
    """Two in the survey, one in each other table and four in the job file, of which two are between keys."""
    replace(job / "survey.csv", "P01,-4,-4", "P02,-4,-4")
    replace(job / "pumps.csv", "pump A,3000,3.35", "pump A,3000,3.85")
    replace(job / "hoses.csv", "38,38,spiral", "38,38,rubber")
    replace(job / "job.toml", 'soil = "clay"', 'soil = "mud"')
    replace(job / "job.toml", "end_level_m = 10.03", "end_level_m = 9.93")
    replace(job / "job.toml", "full = 6000", "full = 4000")
    replace(job / "job.toml", "lip_width_mm = 450", "lip_width_mm = 550")
    places = [problem.split(": ")[0] for problem in problems_of(job)]
    ends = [
        " ".join(part for part in place.split() if part not in ("line",) and not part.isdigit()) for place in places
    ]
    assert ends == [
        "job.toml site.soil",
        "survey.csv",
        "pumps.csv",
        "hoses.csv",
        "job.toml course.end_level_m",
        "job.toml course.reaches.2.lip_width_mm",
        "job.toml flows.full",
    ]
