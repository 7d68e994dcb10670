"""Other people's programs, driven as their users would: LibreCAD draws a DXF file, LibreOffice Calc opens a table.

Both come with Debian. Where one is not installed the test is skipped, and where nothing may be skipped it fails.
"""

import os
import shutil
import subprocess
from collections import defaultdict
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import openpyxl
import pytest
from pypdf import PdfReader
from pypdf.generic import ContentStream

LONGEST = 120.0
"""Seconds a program may take to do its work, start included."""
PAPER_SCALE = 0.1
"""Metres of paper for a metre of site: a dot of LibreCAD's page is then 0.2 mm on the site."""
DOT = 0.0254 / 1200 / PAPER_SCALE
"""LibreCAD lays its page out in dots, 1200 to the inch (read off a file of known size)."""

Colour = tuple[int, int, int]


def drawn_by_cad(dxf: Path, folder: Path) -> dict[Colour, np.ndarray]:
    """Ends of the strokes (n, 2, 2) LibreCAD draws in each colour, in metres from a corner it chooses, north up."""
    program = _program("librecad")
    options = ("-c", "-s", str(PAPER_SCALE), "-t", str(folder))
    _run([program, "dxf2pdf", *options, str(dxf)], folder, QT_QPA_PLATFORM="offscreen")
    reader = PdfReader(folder / f"{dxf.stem}.pdf")
    content = ContentStream(reader.pages[0].get_contents(), reader)
    colour, at = (0, 0, 0), (0.0, 0.0)
    strokes: dict[Colour, list[tuple[tuple[float, float], tuple[float, float]]]] = defaultdict(list)
    for operands, operator in content.operations:
        if operator == b"SCN":
            red, green, blue = (round(float(part) * 255) for part in operands)
            colour = (red, green, blue)
        elif operator == b"m":
            at = _place(operands)
        elif operator in (b"l", b"c"):
            # A circle comes as four curves, whose ends are its quarter points.
            strokes[colour].append((at, _place(operands[-2:])))
            at = strokes[colour][-1][1]
    return {colour: np.array(lines) for colour, lines in strokes.items()}


def through_calc(table: Path, folder: Path) -> list[list[str]]:
    """Cells of a table that LibreOffice Calc opened, stored as a workbook of its own, opened again and told as text.

    Numbers it took as numbers come back as it shows them; what it took as words would come back in quotation marks.
    """
    book = _convert(table, folder, "ods")
    return [line.split(";") for line in _convert(book, folder, QUOTED).read_text().splitlines()]


def recalculated(book: bytes, folder: Path) -> Any:
    """A workbook with every formula worked by LibreOffice Calc: whatever values stood in it are dropped first."""
    bare = folder / "bare.xlsx"
    openpyxl.load_workbook(BytesIO(book)).save(bare)
    return openpyxl.load_workbook(_convert(bare, folder, "xlsx:Calc MS Excel 2007 XML"), data_only=True)


QUOTED = "csv:Text - txt - csv (StarCalc):59,34,76,1,,0,true,false"
"""Calc's own writing of a table: semicolons, quotation marks round all words, UTF-8, numbers bare and whole."""


def _convert(file: Path, folder: Path, kind: str) -> Path:
    program = _program("localc")
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    into = folder / "converted"
    _run([program, profile, "--headless", "--convert-to", kind, "--outdir", str(into), str(file)], folder)
    return into / f"{file.stem}.{kind.partition(':')[0]}"


def _program(name: str) -> str:
    found = shutil.which(name)
    if found is None:
        pytest.skip(f"{name} is not installed")
    return found


def _run(words: list[str], home: Path, **settings: str) -> None:
    # A home of its own: what its user set up must not decide a test.
    environment = {**os.environ, "HOME": str(home), "XDG_RUNTIME_DIR": str(home), **settings}
    subprocess.run(words, env=environment, cwd=home, check=True, capture_output=True, timeout=LONGEST)


def _place(operands: list[float]) -> tuple[float, float]:
    east, south = (float(each) * DOT for each in operands)
    return east, -south
