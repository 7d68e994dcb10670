"""Who gets which sheets: by one table, lazily, with the numbers of the whole set, each file whole or not there."""

import io
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader

import beckwright.papers.parts as parts_module
from beckwright import Design, design, read_job, write_papers
from beckwright.base.errors import JobError
from beckwright.care import care_tasks, normal
from beckwright.compose import Works
from beckwright.papers import READERS, WHOLE, Beside, Form, Reader, draw_sheets, readers_named, write_set
from beckwright.papers.drawing import Sheet, Text, plain
from beckwright.papers.filmed import filmed
from beckwright.papers.parts import PARTS, names_of
from beckwright.papers.readers import CHECKER, CLIENT, DRIVER, NEXT_CONTRACTOR, OWNER, SUPPLIER
from tests.drawn import EXAMPLES, Drawn


@pytest.fixture(scope="module")
def hazel() -> Design:
    return design(read_job(EXAMPLES / "hazel_bank"))


@pytest.fixture(scope="module")
def works(hazel: Design) -> Works:
    return Works(hazel)


@pytest.fixture(scope="module")
def whole(drawn_sets: Drawn) -> tuple[Sheet, ...]:
    return drawn_sets.sheets("hazel_bank")


@pytest.fixture(scope="module")
def helping() -> Iterator[Beside]:
    """A second process begun once: it reads its libraries for seconds."""
    with Beside() as helper:
        yield helper


def said(sheet: Sheet) -> set[str]:
    return {part.words for mark in sheet.marks for part in plain(mark) if isinstance(part, Text)}


def test_every_part_is_read_by_somebody_and_everybody_reads_something() -> None:
    assert all(part.readers for part in PARTS)
    assert len({part.name for part in PARTS}) == len(PARTS)
    for reader in READERS:
        assert names_of([reader]), reader.key
    assert names_of([WHOLE]) == names_of([]) == {part.name for part in PARTS}


def test_a_readers_sheets_are_those_of_the_whole_set_with_its_numbers(
    hazel: Design, works: Works, whole: tuple[Sheet, ...]
) -> None:
    number = {sheet.name: place for place, sheet in enumerate(whole, 1)}
    for reader in (DRIVER, SUPPLIER, CHECKER):
        own = draw_sheets(hazel, works, readers=[reader])
        assert [sheet.name for sheet in own] == [sheet.name for sheet in whole if reader.key in sheet.readers]
        for sheet in own:
            assert f"{number[sheet.name]}/{len(whole)}" in said(sheet)
            assert said(sheet) == said(whole[number[sheet.name] - 1])


def test_what_nobody_asked_for_is_neither_drawn_nor_filmed(
    hazel: Design, works: Works, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: object) -> None:
        raise AssertionError

    monkeypatch.setattr(parts_module, "filmed", never)
    for name in ("story", "running"):
        monkeypatch.setattr(parts_module, f"{name}_sheet", never)
    for name in ("order", "estimate", "calculation", "lining"):
        monkeypatch.setattr(parts_module, f"{name}_sheets", never)
    assert draw_sheets(hazel, works, readers=[DRIVER])
    with pytest.raises(AssertionError):
        draw_sheets(hazel, works, readers=[CLIENT])


def test_readers_are_found_however_they_are_typed_and_a_near_miss_is_named() -> None:
    assert [each.key for each in readers_named(["Tree officer", "DRIVER", "driver", "next_contractor"])] == [
        "tree-officer",
        "driver",
        "next-contractor",
    ]
    with pytest.raises(JobError) as caught:
        readers_named(["drivr", "digger", "nobody at all"])
    assert [problem.remedy for problem in caught.value.problems] == [
        "Ask for driver",
        "Ask for driver",
        "Ask for one of them",
    ]


def test_only_what_is_asked_for_is_written(
    hazel: Design, whole: tuple[Sheet, ...], helping: Beside, tmp_path: Path
) -> None:
    written = write_papers(hazel, tmp_path, readers=[DRIVER, SUPPLIER], forms=[Form.PDF, Form.DXF], beside=helping)
    assert sorted(written) == sorted(path for path in tmp_path.rglob("*") if path.is_file())
    names = {path.name for path in written}
    assert {"papers_driver.pdf", "papers_supplier.pdf", "dig-1.dxf"} <= names
    assert {path.suffix for path in written} == {".pdf", ".dxf"}
    pages = PdfReader(tmp_path / "papers_supplier.pdf").pages
    assert "Calculation" not in " ".join(page.extract_text() for page in pages)
    assert len(pages) == len([sheet for sheet in whole if "supplier" in sheet.readers])


def test_workbook_and_calendar_go_with_what_they_belong_to(hazel: Design, helping: Beside, tmp_path: Path) -> None:
    forms = [Form.XLSX, Form.ICS, Form.OTHER]
    client = write_papers(hazel, tmp_path / "a", readers=[CLIENT], forms=forms, beside=helping)
    driver = write_papers(hazel, tmp_path / "b", readers=[DRIVER], forms=forms, beside=helping)
    assert {path.name for path in client} == {"programme.ics", "estimate.xlsx"}
    assert driver == ()


@pytest.mark.parametrize("reader", [OWNER, NEXT_CONTRACTOR])
def test_who_takes_care_has_its_tasks_for_a_telephone(
    hazel: Design, works: Works, tmp_path: Path, reader: Reader
) -> None:
    (path,) = write_set(works, [], tmp_path, readers=[reader], forms=[Form.ICS])
    assert path.name == "care.ics"
    # RFC 5545, 3.1 and 3.3.11: long lines go on after a space, commas are marked.
    told = path.read_bytes().decode().replace("\r\n ", "").replace("\\,", ",").replace("\r", "")
    tasks = care_tasks(hazel, works, normal(hazel, works))
    assert re.findall("SUMMARY:(.*)", told) == [task.title for task in tasks]


def test_a_picture_of_each_sheet_is_written_where_it_is_asked_for(
    hazel: Design, whole: tuple[Sheet, ...], helping: Beside, tmp_path: Path
) -> None:
    from PIL import Image

    written = write_papers(hazel, tmp_path, readers=[SUPPLIER], forms=[Form.PNG], beside=helping)
    picture = Image.open(io.BytesIO(written[0].read_bytes()))
    assert picture.width == pytest.approx(420 / 25.4 * 200, abs=2)
    assert len(written) == len([sheet for sheet in whole if SUPPLIER.key in sheet.readers])


@pytest.fixture(scope="module")
def run_through(hazel: Design, helping: Beside, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What a whole run writes for the driver, who waits for no film."""
    folder = tmp_path_factory.mktemp("whole")
    write_papers(hazel, folder, readers=[DRIVER], forms=[Form.SVG, Form.DXF], beside=helping)
    return folder


@pytest.mark.parametrize(("after", "begun"), [(3, True), (12, False), (24, True)])
def test_a_stop_leaves_every_file_whole(
    hazel: Design, run_through: Path, helping: Beside, tmp_path: Path, after: int, *, begun: bool
) -> None:
    """With a second process that was there already, and with one of its own that has to end with it.

    Stopped while it is told something for the so-manieth time: what is there is what a whole run writes there.
    """
    left = after

    def stop(_: str) -> None:
        nonlocal left
        left -= 1
        if left < 0:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        write_papers(
            hazel,
            tmp_path / "cut",
            readers=[DRIVER],
            forms=[Form.SVG, Form.DXF],
            progress=stop,
            beside=helping if begun else None,
        )
    for path in (tmp_path / "cut").rglob("*"):
        assert path.read_bytes() == (run_through / path.name).read_bytes()


def test_a_full_disk_leaves_the_earlier_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from beckwright.papers.kept import keep

    keep(tmp_path / "papers.pdf", b"earlier")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(OSError, match="No space"):
        keep(tmp_path / "papers.pdf", b"later")
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("papers.pdf", b"earlier")]


@pytest.fixture
def beside() -> Iterator[Beside]:
    with Beside() as helper:
        yield helper


def test_work_done_beside_is_the_work_done_here(hazel: Design, beside: Beside) -> None:
    there, here = beside.ask(filmed, hazel).result(), filmed(hazel)
    assert there == here


def test_trouble_beside_is_raised_here(beside: Beside) -> None:
    with pytest.raises(ZeroDivisionError):
        beside.ask(divmod, 1, 0).result()
    assert beside.ask(divmod, 7, 2).result() == (3, 1)


def test_where_the_other_process_dies_its_work_is_done_here(beside: Beside) -> None:
    for process in beside._processes:
        process.kill()
    assert beside.ask(divmod, 7, 2).result() == (3, 1)


def test_several_hands_give_back_what_each_was_asked() -> None:
    with Beside(hands=2) as helper:
        asked = [helper.ask(divmod, number, 7) for number in range(20)]
        assert [each.result() for each in asked] == [divmod(number, 7) for number in range(20)]


def test_nobody_is_left_behind(tmp_path: Path) -> None:
    with Beside() as helper:
        processes = helper._processes
    assert processes
    assert all(process.poll() is not None for process in processes)


def test_a_plain_script_without_a_main_guard_writes_the_papers_once(tmp_path: Path) -> None:
    """As the read-me shows it: a script run again by a second process would write the set again, and for ever."""
    script = tmp_path / "mine.py"
    script.write_text(
        "from pathlib import Path\n"
        "from beckwright import design, read_job\n"
        "from beckwright.papers import write_papers, readers_named, Form\n"
        f"job = design(read_job(Path({str(EXAMPLES / 'withy_lane')!r})))\n"
        "print(len(write_papers(job, Path('out'), readers=readers_named(['owner']), forms=[Form.PDF])))\n",
        encoding="utf-8",
    )
    ran = subprocess.run(
        [sys.executable, script.name], cwd=tmp_path, capture_output=True, text=True, check=False, timeout=300
    )
    assert (ran.returncode, ran.stdout.split()) == (0, ["1"]), ran.stderr
