"""A process that writes to a job as fast as it can and says what it was told. It is there to be killed.

For each line on standard input, ``FOLDER ROUND``, a process of its own writes without end. On standard output: its
number, one line of JSON for every write it has the answer to, and ``null`` once it is dead and all it said is out.
"""

import json
import os
import sys
from datetime import UTC, datetime
from itertools import count
from typing import Any

from beckwright.site import Keeper, Saved

JPEG = b"\xff\xd8\xff"
WHEN = datetime(2026, 5, 2, 9, 30, tzinfo=UTC)


def say(told: Any) -> None:
    os.write(1, json.dumps(told).encode() + b"\n")


def stands(act: str, mark: str, told: Any) -> dict[str, Any]:
    if not isinstance(told, Saved):
        message = f"nobody else writes here, and yet: {told}"
        raise TypeError(message)
    return {"act": act, "mark": mark, "number": told.revision.number, "text": told.text}


def write(folder: str, turn: str) -> None:
    keeper = Keeper(folder)
    for each in count():
        mark = f"{turn}-{each}"
        if each % 4 == 0:
            kept = keeper.add_reading("peg", {"mark": mark}, when=WHEN, mark=mark)
            say({"act": "reading", "mark": mark, "number": kept.number})
        elif each % 23 == 0:
            picture = keeper.add_photograph(JPEG + mark.encode() * 20_000, when=WHEN, mark=mark)
            say({"act": "photograph", "mark": mark, "digest": picture.digest})
        elif each % 7 == 0:
            say(stands("undo", mark, keeper.undo(mark)))
        elif each % 7 == 1:
            say(stands("redo", mark, keeper.redo(mark)))
        elif each % 5 == 3:
            base, name = keeper.standing().revision.number, ("survey.csv", "prices.csv")[each % 2]
            raw = f"# {mark} of {name}\n".encode() * (1 + each % 300)
            say(stands("bring", mark, keeper.bring(name, raw, why=mark, mark=mark, based_on=base)) | {"name": name})
        else:
            base = keeper.standing().revision.number
            text = f"# {mark} 🪨\r\n" * (1 + each % 300)
            say(stands("save", mark, keeper.save(text, why=mark, mark=mark, based_on=base)))


def main() -> None:
    for line in sys.stdin:
        number = os.fork()
        if number == 0:
            write(*line.split())
        say(number)
        os.waitpid(number, 0)
        say(None)


if __name__ == "__main__":
    main()
