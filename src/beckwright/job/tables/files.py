"""Take a file's text in, bounded, or say in one sentence why it cannot be read."""

from pathlib import Path

from beckwright.base.errors import Problem

MEGABYTE = 1_000_000
PACKED = {
    b"\x1f\x8b": "gzip",
    b"PK\x03\x04": "zip or spreadsheet",
    b"BZh": "bzip2",
    b"\xfd7zXZ": "xz",
    b"7z\xbc\xaf": "7z",
}
WIDE = (b"\xff\xfe", b"\xfe\xff")
"""How a file in two-byte text begins."""


def take_text(path: Path, *, largest: int, problems: list[Problem]) -> str | None:
    """Return the text of a file of at most ``largest`` bytes, line ends made plain; None after noting a problem."""
    raw = take_bytes(path, largest=largest, problems=problems)
    return None if raw is None else text_in(raw, path.name, problems)


def text_in(raw: bytes, name: str, problems: list[Problem]) -> str | None:
    """Return the text in the bytes of a file called ``name``, line ends made plain; None after noting a problem."""
    trouble = _not_text(raw)
    if trouble:
        problems.append(Problem(place=name, found=trouble[0], rule="It must be plain text", remedy=trouble[1]))
        return None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        problems.append(
            Problem(
                place=f"{name} line {line}",
                found="there is a character in another encoding",
                rule="The file must be UTF-8 text",
                remedy="Save it again with the encoding UTF-8",
            )
        )
        return None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def take_bytes(path: Path, *, largest: int, problems: list[Problem]) -> bytes | None:
    """Return what a file of at most ``largest`` bytes holds; None after noting a problem."""
    rule, remedy = "It must be a text file in the job's folder", f"Put {path.name} there"
    if path.is_dir():
        problems.append(Problem(place=path.name, found="it is a folder", rule=rule, remedy="Put the file itself there"))
        return None
    if not path.is_file():
        problems.append(Problem(place=path.name, found="there is no such file", rule=rule, remedy=remedy))
        return None
    try:
        with path.open("rb") as file:
            raw = file.read(largest + 1)
    except OSError as error:
        found = f"it cannot be opened ({error.strerror})"
        problems.append(Problem(place=path.name, found=found, rule=rule, remedy="Allow yourself to read it"))
        return None
    if len(raw) > largest:
        found = f"it is larger than {largest / MEGABYTE:g} MB"
        rule, remedy = f"{path.name} may hold {largest / MEGABYTE:g} MB", "Leave out what the stream does not touch"
        problems.append(Problem(place=path.name, found=found, rule=rule, remedy=remedy))
        return None
    return raw


def _not_text(raw: bytes) -> tuple[str, str] | None:
    """Say what is wrong with bytes that are not plain text, and what to do; None where they may be."""
    if not raw.strip():
        return "it is empty", "Fill it in, or start from a new job"
    for start, kind in PACKED.items():
        if raw.startswith(start):
            return f"it is really a {kind} file", "Unpack it, or export it as CSV, and put that there"
    if raw.startswith(WIDE):
        return "it is two-byte text (UTF-16)", "Save it again with the encoding UTF-8"
    if b"\x00" in raw:
        return "it is not text but a binary file", "Export it as plain text and put that there"
    return None
