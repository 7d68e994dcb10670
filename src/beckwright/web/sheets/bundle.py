"""Everything ``write_papers`` makes as one ZIP, on disk and not in memory; the same job gives the same bytes."""

import tempfile
from datetime import UTC, datetime
from pathlib import Path
from threading import Lock
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from beckwright.papers import write_set
from beckwright.web.desk.opened import Laid
from beckwright.web.sheets.own_process import set_pdf

PACKED_ALREADY = {".pdf", ".xlsx"}
PLAIN_FILE = 0o100644
_ONE_AT_A_TIME = Lock()


def write_bundle(laid: Laid) -> Path:
    """Write the set of a job as a ZIP in a temporary place; whoever sends it takes it away afterwards.

    Raises OSError where there is no room.
    """
    with _ONE_AT_A_TIME, tempfile.TemporaryDirectory(prefix="beckwright-papers-") as name:
        folder = Path(name)
        written = write_set(laid.works, tuple(laid.sheets().values()), folder, set_pdf=set_pdf)
        moment = datetime.fromisoformat(laid.design.job.title.date).replace(tzinfo=UTC)
        with tempfile.NamedTemporaryFile(prefix="beckwright-papers-", suffix=".zip", delete=False) as file:
            path = Path(file.name)
        try:
            with ZipFile(path, "w") as packed:
                for each in written:
                    _pack(packed, each, str(each.relative_to(folder).as_posix()), moment)
        except BaseException:
            path.unlink(missing_ok=True)
            raise
        return path


def _pack(packed: ZipFile, path: Path, name: str, moment: datetime) -> None:
    """Put a file in under the date of the job: the clock of this machine is none of its contents."""
    told = ZipInfo(name, moment.timetuple()[:6])
    told.compress_type = ZIP_STORED if path.suffix in PACKED_ALREADY else ZIP_DEFLATED
    told.external_attr = PLAIN_FILE << 16
    told.create_system = 3
    with path.open("rb") as file, packed.open(told, "w") as into:
        while piece := file.read(1 << 20):
            into.write(piece)
