"""The PDF as Debian's own programs see it: sound, as it claims to be, its typeface in it, its numbers to be found."""

import shutil
import subprocess
from pathlib import Path

import pytest

from beckwright import Design, design, read_job
from beckwright.compose import Works
from beckwright.papers import WHOLE, Form, Reader, readers_named, write_set
from beckwright.papers.drawing import Sheet
from tests.drawn import EXAMPLES, Drawn

pytestmark = pytest.mark.programs


def through(program: str, *words: object) -> str:
    found = shutil.which(program)
    if found is None:
        pytest.skip(f"{program} is not installed")
    ran = subprocess.run([found, *map(str, words)], capture_output=True, text=True, check=False, timeout=120)
    assert ran.returncode == 0, ran.stdout + ran.stderr
    return ran.stdout


@pytest.fixture(scope="module")
def hazel() -> Design:
    return design(read_job(EXAMPLES / "hazel_bank"))


@pytest.fixture(scope="module", params=["whole", "driver"])
def reader(request: pytest.FixtureRequest) -> Reader:
    (named,) = readers_named([request.param])
    return named


@pytest.fixture(scope="module")
def sheets(reader: Reader, drawn_sets: Drawn) -> list[Sheet]:
    return [each for each in drawn_sets.sheets("hazel_bank") if reader is WHOLE or reader.key in each.readers]


@pytest.fixture(scope="module")
def pdf(reader: Reader, hazel: Design, sheets: list[Sheet], tmp_path_factory: pytest.TempPathFactory) -> Path:
    (written,) = write_set(Works(hazel), sheets, tmp_path_factory.mktemp("set"), readers=[reader], forms=[Form.PDF])
    return written


def test_the_file_is_sound(pdf: Path) -> None:
    assert "No syntax or stream encoding errors found" in through("qpdf", "--check", pdf)


def test_every_font_is_in_it_and_it_is_the_one_typeface(pdf: Path) -> None:
    rows = [line.split() for line in through("pdffonts", pdf).splitlines()[2:]]
    assert rows
    for row in rows:
        assert "IBMPlexSans" in row[0]
        # The columns end with: embedded, subset, unicode, and two of the object.
        assert row[-5:-2] == ["yes", "yes", "yes"], row


def test_it_is_tagged_and_claims_what_it_is(pdf: Path, hazel: Design) -> None:
    told = through("pdfinfo", pdf)
    assert "Tagged:          yes" in told
    assert hazel.job.title.name in told
    assert "1190.55 x 841.89 pts (A3)" in told  # ISO 216: A3 is 420 by 297 mm.
    claims = through("pdfinfo", "-meta", pdf)
    assert "<pdfaid:part>2</pdfaid:part>" in claims
    assert "<pdfuaid:part>1</pdfuaid:part>" in claims


def test_numbers_are_found_on_the_pages_they_stand_on(pdf: Path, hazel: Design, sheets: list[Sheet]) -> None:
    pages = through("pdftotext", "-layout", pdf, "-").split("\f")[:-1]
    assert len(pages) == len(sheets)
    for page, sheet in zip(pages, sheets, strict=True):
        assert page.strip(), sheet.name
        assert f"{hazel.job.datum.level:.2f} m" in page, sheet.name
        assert hazel.job.title.date in page, sheet.name
    assert any("7.44 m" in page for page in pages)
