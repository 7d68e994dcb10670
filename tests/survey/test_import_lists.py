"""Lists of points: however they are written, the same points come out, and what is not sure is asked."""

from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from beckwright.base.errors import JobError
from beckwright.job.tables import read_survey
from beckwright.survey.codes import MEANINGS, VOCABULARY, read_code, species_and_stem
from beckwright.survey.marks import marks_beside
from beckwright.survey.understood import Understood, understand
from beckwright.survey.written import write_survey

EXAMPLES = Path(__file__).parents[2] / "examples"
SETTINGS = settings(max_examples=80, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
HEADINGS = {
    "id": ("id", "Pt", "Point No", "NAME"),
    "x": ("x", "E", "Easting", "x_m", "East (m)"),
    "y": ("y", "N", "Northing", "y_m", "North (m)"),
    "z": ("z", "Level", "Height", "z_m", "RL [m]"),
    "code": ("code", "Description", "Feature Code", "remark"),
}
POINTS = [("1", 4.0, 6.25, 99.455, "GL"), ("2", 14.12, 6.5, 99.9, ""), ("3", 9.375, 17.0, 101.031, "TREE oak 0.62")]


def write(path: Path, text: str, encoding: str = "utf-8") -> Path:
    path.write_bytes(text.encode(encoding))
    return path


def asked(understood: Understood) -> list[str]:
    return [question.about for question in understood.questions]


def problems_of(path: Path, **answers: object) -> list[str]:
    with pytest.raises(JobError) as caught:
        understand(path, **answers)  # type: ignore[arg-type]
    return [str(problem) for problem in caught.value.problems]


@SETTINGS
@given(
    order=st.permutations(tuple(HEADINGS)),
    words=st.tuples(*(st.sampled_from(words) for words in HEADINGS.values())),
    mark=st.sampled_from(";\t,"),
    comma=st.booleans(),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "latin-1"]),
    end=st.sampled_from(["\n", "\r\n", "\r"]),
    title=st.booleans(),
    named=st.booleans(),
)
def test_the_same_points_however_written(
    tmp_path: Path,
    order: list[str],
    words: tuple[str, ...],
    mark: str,
    comma: bool,
    encoding: str,
    end: str,
    title: bool,
    named: bool,
) -> None:
    """Law: order, separator, decimal mark, encoding and line ends of a list say nothing about the ground."""
    comma = comma and mark != ","
    heads = dict(zip(HEADINGS, words, strict=True))
    rows = [dict(zip(HEADINGS, (name, f"{x}", f"{y}", f"{z}", code), strict=True)) for name, x, y, z, code in POINTS]
    for row in rows:
        row |= {key: row[key].replace(".", ",") for key in "xyz" if comma}
    lines = [mark.join(row[key] for key in order) for row in ([] if named else [heads]) + rows]
    text = end.join((["Survey of the lower garden"] if title else []) + lines + [""])
    answers = {"columns": order} if named else {}
    understood = understand(write(tmp_path / "list.txt", text, encoding), **answers)  # type: ignore[arg-type]
    assert asked(understood) == []
    assert understood.names == tuple(name for name, *_ in POINTS)
    np.testing.assert_allclose(understood.points, [(x, y) for _, x, y, _, _ in POINTS], rtol=0, atol=1e-9)
    np.testing.assert_allclose(understood.levels, [z for *_, z, _ in POINTS], rtol=0, atol=1e-9)
    assert understood.codes == tuple(code for *_, code in POINTS)


def test_spaces_part_cells_and_commas_are_decimals(tmp_path: Path) -> None:
    text = "1 12,5 3,25 99,41 TREE oak 0,62\n2 22,5 3,25 99,5 GL\n3 12,5 13,25 99,9\n"
    understood = understand(write(tmp_path / "a.txt", text), columns=["id", "x", "y", "z", "code"])
    assert understood.points.tolist() == [[12.5, 3.25], [22.5, 3.25], [12.5, 13.25]]
    assert understood.codes == ("TREE oak 0,62", "GL", "")
    assert "stem_mm = 620" in understood.offers


def test_without_a_heading_the_columns_are_proposed_and_asked(tmp_path: Path) -> None:
    text = "".join(f"{n},{n * 1.7:.2f},{n * n * 0.31:.2f},{100 + n * 0.02:.3f},GL\n" for n in range(1, 20))
    understood = understand(write(tmp_path / "a.csv", text))
    (question,) = understood.questions
    assert question.about == "columns"
    assert [option for option, _ in question.choices] == ['--columns "id,x,y,z,code"', '--columns "id,y,x,z,code"']
    assert len(understood.points) == 0
    with pytest.raises(JobError, match="Nothing is written while that is open"):
        write_survey(understood, tmp_path / "survey.csv")
    assert not (tmp_path / "survey.csv").exists()


def test_the_level_is_the_narrow_column_wherever_it_stands(tmp_path: Path) -> None:
    text = "".join(f"{100 + n * 0.02:.3f};{n * 1.7:.2f};{n * n * 0.31:.2f}\n" for n in range(1, 20))
    (question,) = understand(write(tmp_path / "a.csv", text)).questions
    assert question.choices[0][0] == '--columns "z,x,y"'


@pytest.mark.parametrize(
    ("rows", "answers", "about", "choice"),
    [
        (["0;0;99455", "18000;0;99606", "0;14000;101950"], {}, "unit", "--unit mm"),
        (["0;0;99455", "18;0;99606", "0;14;101950"], {}, "level unit", "--level-unit mm"),
        (["0;0;0", "0.0002;0;0.00001", "0;0.00014;0.00002"], {}, "unit", "--unit mm"),
        (["451018;207004;99", "451036;207004;99.2", "451018;207018;101"], {}, "place", "--shift 451000,207000"),
        (["99;4;0", "99.2;36;2", "101;18;40", "100;20;20"], {}, "axes", "--axes zyx"),
        (["1,234;12,345;99,456", "2,345;23,456;99,567", "3,456;1,234;99,678"], {}, "decimals", "--decimal comma"),
    ],
)
def test_what_is_not_sure_is_asked(
    tmp_path: Path, rows: list[str], answers: dict[str, object], about: str, choice: str
) -> None:
    understood = understand(write(tmp_path / "a.csv", "\n".join(["x;y;z", *rows])), **answers)  # type: ignore[arg-type]
    assert asked(understood) == [about]
    assert choice in [option for option, _ in understood.questions[0].choices]


@pytest.mark.parametrize(
    ("rows", "answers", "points", "levels"),
    [
        # 1 ft is 0.3048 m exactly (the international foot, 1959); a US survey foot is 1200/3937 m.
        (["10;20;30", "20;20;31", "10;40;32"], {"unit": "ft"}, [3.048, 6.096], 9.144),
        (["3937;0;0", "0;3937;0", "0;0;3937"], {"unit": "us-ft", "outliers": "keep"}, [1200, 0], 0),
        (["1000;2000;99455", "18000;0;99606", "0;14000;101950"], {"unit": "mm"}, [1, 2], 99.455),
        (["1;2;99455", "18;0;99606", "0;14;101950"], {"level_unit": "mm"}, [1, 2], 99.455),
        (["1;2;99", "18;0;99", "0;14;100"], {"axes": "yxz"}, [2, 1], 99),
        (["451018;207004;99", "451036;207004;99", "451018;207018;101"], {"shift": (451000, 207000)}, [18, 4], 99),
        (["1,234;12,345;99,456", "2,5;23;99", "3;1;99"], {"decimal": "comma"}, [1.234, 12.345], 99.456),
    ],
)
def test_answers_are_taken(
    tmp_path: Path, rows: list[str], answers: dict[str, object], points: list[float], levels: float
) -> None:
    understood = understand(write(tmp_path / "a.csv", "\n".join(["x;y;z", *rows])), **answers)  # type: ignore[arg-type]
    assert [about for about in asked(understood) if about != "level unit"] == []
    np.testing.assert_allclose(understood.points[0], points, atol=5e-4)
    np.testing.assert_allclose(understood.levels[0], levels, atol=5e-4)


def test_units_of_the_heading_are_taken(tmp_path: Path) -> None:
    text = "Easting (mm)\tNorthing (mm)\tLevel (m)\n1000\t2000\t99.5\n9000\t2000\t99.6\n1000\t8000\t99.9\n"
    understood = understand(write(tmp_path / "a.txt", text))
    assert asked(understood) == []
    assert understood.points.tolist() == [[1, 2], [9, 2], [1, 8]]
    assert understood.levels.tolist() == [99.5, 99.6, 99.9]


def test_a_shift_is_told_in_the_file_and_can_be_added_again(tmp_path: Path) -> None:
    text = "x,y,z\n451018.25,207004.5,99\n451036,207004,99.2\n451018,207018,101\n"
    understood = understand(write(tmp_path / "a.csv", text), shift=(451000.0, 207000.0))
    write_survey(understood, tmp_path / "survey.csv")
    assert "451000.000 was taken off every easting and 207000.000 off every northing" in (
        tmp_path / "survey.csv"
    ).read_text(encoding="utf-8")
    np.testing.assert_allclose(understood.points[0] + understood.shift, [451018.25, 207004.5], atol=1e-9)


def grid(levels: str = "") -> str:
    """A gentle slope, 6 by 6 points 2 m apart; ``levels`` are rows added."""
    rows = [f"{2 * x},{2 * y},{100 + 0.1 * x + 0.05 * y:.3f}" for x in range(6) for y in range(6)]
    return "\n".join(["x,y,z", *rows, levels]) + "\n"


def test_a_stray_level_is_noticed_and_left_out_only_when_told(tmp_path: Path) -> None:
    path = write(tmp_path / "a.csv", grid("5,5,0\n5.5,3.1,109.9"))
    understood = understand(path)
    (question,) = understood.questions
    assert question.about == "levels"
    assert "line 38 at 0.00 m" in question.says
    assert "line 39 at 109.90 m" in question.says
    assert len(understand(path, outliers="leave-out").points) == 36
    kept = understand(path, outliers="keep")
    assert (len(kept.points), kept.levels.max()) == (38, 109.9)


def test_a_wall_is_no_stray_level(tmp_path: Path) -> None:
    """Two rows of points 2.4 m above the others stand beside each other: a terrace, not a slip."""
    rows = [f"{2 * x},{2 * y},{100 + 2.4 * (x > 3):.3f}" for x in range(6) for y in range(6)]
    assert asked(understand(write(tmp_path / "a.csv", "\n".join(["x,y,z", *rows])))) == []


@pytest.mark.parametrize(("how", "level"), [("first", 99.9), ("lowest", 99.5), ("highest", 100.4), ("middle", 99.9)])
def test_a_place_shot_more_than_once(tmp_path: Path, how: str, level: float) -> None:
    path = write(tmp_path / "a.csv", "x,y,z\n0,0,99.9\n10,0,100\n0,10,101\n0,0.003,99.5\n0,0,100.4\n10,0,100.002\n")
    assert asked(understand(path)) == ["duplicates"]
    understood = understand(path, duplicates=how)  # type: ignore[arg-type]
    assert asked(understood) == []
    assert understood.levels.tolist() == [level, 100, 101]
    write_survey(understood, tmp_path / "survey.csv")


def test_axes_are_asked_about_when_marks_of_the_job_lie_the_other_way(tmp_path: Path) -> None:
    write(tmp_path / "job.toml", "[course]\nline_m = [[2.0, 30.0], [4.0, 35.0]]\n[[trees]]\nx_m = 3\ny_m = 31\n")
    path = write(tmp_path / "a.csv", "x,y,z\n20,0,100\n40,0,100\n20,10,100.5\n40,10,100.4\n")
    marks = marks_beside(tmp_path / "survey.csv")
    assert marks is not None
    (question,) = understand(path, marks=marks).questions
    assert question.says == "3 of the 3 marks of the job lie in the survey if x and y change places, 0 as they stand."
    assert asked(understand(path, marks=marks, axes="yxz")) == []


def test_a_job_half_written_gives_no_marks(tmp_path: Path) -> None:
    assert marks_beside(tmp_path / "survey.csv") is None
    write(tmp_path / "job.toml", '[course]\nline_m = "later"\n[[trees]]\nx_m = "?"\ny_m = true\n')
    assert marks_beside(tmp_path / "survey.csv") is None
    write(tmp_path / "job.toml", "[course\n")
    assert marks_beside(tmp_path / "survey.csv") is None


@pytest.mark.parametrize("folder", sorted(path.name for path in EXAMPLES.iterdir() if path.is_dir()))
def test_our_own_survey_comes_through_unchanged(tmp_path: Path, folder: str) -> None:
    """Two readers of one file agree: the one of jobs, and this one followed by it."""
    source = EXAMPLES / folder / "survey.csv"
    understood = understand(source, shift=(0.0, 0.0), outliers="keep")
    write_survey(understood, tmp_path / "survey.csv")
    before, after = read_survey(source, []), read_survey(tmp_path / "survey.csv", [])
    assert before is not None
    assert after is not None
    assert sorted(map(tuple, after.points.tolist())) == sorted(map(tuple, before.points.tolist()))
    assert sorted(after.levels.tolist()) == sorted(before.levels.tolist())
    assert sorted(map(len, after.breaklines)) == sorted(map(len, before.breaklines))


@pytest.mark.parametrize(
    ("written", "becomes"),
    [
        ("Tree oak 0.62", "TREE oak 0.62"),
        ("tr_birch_280", "TREE birch_280"),
        ("WALL1", "WALL1"),
        ("wall 2 brick", "WALL2 brick"),
        ("Top of bank 3", "TOP3"),
        ("TOE", "FOOT"),
        ("MH", "DRAIN"),
        ("Boundary", "BDY"),
        ("house corner", "BLD"),
        ("Water level", "WATER"),
        ("TBM", "MARK"),
        ("wl", "wl"),
        ("zebra crossing", "zebra crossing"),
        ("", ""),
    ],
)
def test_codes(written: str, becomes: str) -> None:
    assert read_code(written).written == becomes


@given(st.text(max_size=30))
def test_a_code_read_again_stays(written: str) -> None:
    once = read_code(written)
    assert read_code(once.written).written == once.written


def test_no_word_means_two_things() -> None:
    assert len(MEANINGS) == sum(map(len, VOCABULARY.values()))


@pytest.mark.parametrize(
    ("detail", "species", "stem"),
    [
        ("oak 0.62", "oak", 0.62),
        ("field maple 350", "field maple", 0.35),
        ("birch 28cm", "birch", 0.28),
        ("ash 45", "ash", None),
        ("", "", None),
        ("oak 0", "oak", None),
    ],
)
def test_trees(detail: str, species: str, stem: float | None) -> None:
    found = species_and_stem(detail)
    assert found[0] == species
    assert found[1] == (pytest.approx(stem) if stem else None)


def test_numbered_edges_become_breaklines_when_asked(tmp_path: Path) -> None:
    text = (
        "id,x,y,z,code\na,0,0,100,GL\nb,5,5,101,TOP1\nc,9,1,100,GL\nd,9,5,101,TOB 1\ne,5,9,100,TOE2\nf,9,9,100,foot2\n"
    )
    path = write(tmp_path / "a.csv", text)
    assert understand(path).breakline_counts == {}
    understood = understand(path, join_lines=True)
    assert understood.breakline_counts == {"TOP1": 2, "FOOT2": 2}
    write_survey(understood, tmp_path / "survey.csv")
    survey = read_survey(tmp_path / "survey.csv", [])
    assert survey is not None
    assert [survey.points[list(line)].tolist() for line in survey.breaklines] == [[[5, 5], [9, 5]], [[5, 9], [9, 9]]]


def test_names_that_stand_twice_or_not_at_all(tmp_path: Path) -> None:
    text = "id,x,y,z\n7,0,0,1\n7,5,0,1\n,0,5,1\n#9,5,5,1\n7.2,9,9,1\n,3,8,1\n"
    understood = understand(write(tmp_path / "a.csv", text.replace("#9", '"#9"')))
    assert understood.names == ("7", "7.3", "P1", "9", "7.2", "P2")
    write_survey(understood, tmp_path / "survey.csv")


LIST_FAULTS = [
    ("empty", b"", "it is empty"),
    ("comments only", b"# one\n# two\n", "holds no points"),
    ("heading only", b"x,y,z\n", "heading and no points"),
    ("binary", b"x,y,z\n\x00\x01\x02", "binary file"),
    ("half two-byte text", b"\xff\xfex\x00,", "no text"),
    ("degrees", b"lat,lon,h\n51.1,-1.2,99\n51.2,-1.3,98\n", "latitude and longitude"),
    ("packed", b"PK\x03\x04....", "zip or spreadsheet"),
    ("closed drawing", b"AC1032\x00\x00", "closed format"),
    ("cell grid", b"ncols 5\nnrows 5\n", "grid of levels in text"),
    ("endless line", b"x,y,z\n" + b"1" * 20_000, "line 2: the line has 20000 characters"),
    ("beyond all measure", b"x,y,z\n0,0,1\n5,0,1\n0,5,1e300\n", "beyond all measure"),
    ("two units", b"x_m,y_mm,z\n1,2,3\n2,3,4\n", "m and mm for x and y"),
]


@pytest.mark.parametrize(
    ("raw", "words"), [fault[1:] for fault in LIST_FAULTS], ids=[fault[0] for fault in LIST_FAULTS]
)
def test_a_list_that_cannot_be_read(tmp_path: Path, raw: bytes, words: str) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(raw)
    (problem,) = problems_of(path)
    assert words in problem


def test_every_line_that_is_wrong_is_named(tmp_path: Path) -> None:
    path = write(tmp_path / "a.csv", "id,x,y,z\n1,0,0,100\n2,5,,100\n3,5,5,1_0\n4,nan,5,99\n5,1,2,3,4\n")
    assert [problem.split(".")[0] + "." + problem.split(".")[1] for problem in problems_of(path)] == [
        "a.csv line 3: y is empty",
        'a.csv line 4: z is "1_0"',
        'a.csv line 5: x is "nan"',
        "a.csv line 6: the line has 5 cells",
    ]


def test_many_wrong_lines_are_counted(tmp_path: Path) -> None:
    problems = problems_of(write(tmp_path / "a.csv", "x,y,z\n" + "1,a,3\n" * 50))
    assert len(problems) == 21
    assert "30 more problems" in problems[-1]


def test_columns_misnamed(tmp_path: Path) -> None:
    path = write(tmp_path / "a.csv", "1,2,3\n4,5,6\n7,9,9\n")
    assert 'Did you mean "easting"' in problems_of(path, columns=["eastin", "y", "z"])[0]
    assert "z is not named" in problems_of(path, columns=["x", "y", "-"])[0]
    assert '"e" stands twice' in problems_of(path, columns=["x", "e", "z"])[0]


def test_nothing_is_written_over_or_left_half(tmp_path: Path) -> None:
    understood = understand(write(tmp_path / "a.csv", "x,y,z\n0,0,1\n9,0,1\n0,9,1\n"))
    write_survey(understood, tmp_path / "survey.csv")
    with pytest.raises(JobError, match="it is there already"):
        write_survey(understood, tmp_path / "survey.csv")
    with pytest.raises(JobError, match="cannot be written"):
        write_survey(understood, tmp_path / "nowhere" / "survey.csv")
    line = understand(write(tmp_path / "b.csv", "x,y,z\n0,0,1\n9,9,1\n5,5,1\n"))
    with pytest.raises(JobError, match="lie in one line"):
        write_survey(line, tmp_path / "line.csv")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.csv", "b.csv", "survey.csv"]
