"""Readings, photographs and the diary: each comes back as it was sent, once."""

from datetime import UTC, datetime, timedelta, timezone
from hashlib import sha256
from pathlib import Path

import pytest

from beckwright import JobError
from beckwright.site import Keeper

WHEN = datetime(2026, 5, 2, 9, 30, tzinfo=UTC)
JPEG = b"\xff\xd8\xff\xe0" + bytes(range(256)) * 40


def test_readings_come_back_by_kind(keeper: Keeper, folder: Path) -> None:
    peg = {"peg": 7, "down_m": 0.34, "left_m": 0.55, "by": "crew 🪨", "list": [1, None, True]}
    keeper.add_reading("peg", peg, when=WHEN, mark="m1")
    keeper.add_reading("bucket", {"s": 11.5}, when=WHEN, mark="m2")
    with Keeper(folder) as other:
        (told,) = other.readings("peg")
        assert (told.content, told.seen, told.number) == (peg, WHEN, 1)
        assert [each.kind for each in other.readings()] == ["peg", "bucket"]


def test_a_reading_is_taken_once_by_its_mark(keeper: Keeper) -> None:
    one = keeper.add_reading("peg", {"peg": 7}, when=WHEN, mark="m1")
    assert keeper.add_reading("peg", {"peg": 7}, when=WHEN, mark="m1") == one
    assert keeper.readings() == (one,)
    with pytest.raises(JobError, match="mark was used"):
        keeper.add_reading("peg", {"peg": 8}, when=WHEN, mark="m1")
    keeper.add_reading("peg", {"peg": 7}, when=WHEN, mark="m2")
    assert len(keeper.readings()) == 2, "read twice is two readings"


@pytest.mark.parametrize("number", [float("nan"), float("inf")])
def test_a_number_without_end_is_refused(keeper: Keeper, number: float) -> None:
    with pytest.raises(JobError, match="without end"):
        keeper.add_reading("peg", {"down_m": number}, when=WHEN, mark="m1")
    assert keeper.readings() == ()


def test_moments_keep_their_instant(keeper: Keeper) -> None:
    local = datetime(2026, 5, 2, 11, 30, tzinfo=timezone(timedelta(hours=2)))
    assert keeper.write_diary("stones came", when=local, mark="m1").seen == WHEN


def test_a_photograph_comes_back_byte_for_byte(keeper: Keeper) -> None:
    told = keeper.add_photograph(JPEG, when=WHEN, mark="m1", chainage=8.4, note="lip 2")
    assert told.digest == sha256(JPEG).hexdigest()
    assert (told.form, told.size, told.chainage, told.note) == ("image/jpeg", len(JPEG), 8.4, "lip 2")
    assert keeper.photograph(told.digest) == JPEG
    assert keeper.add_photograph(JPEG, when=WHEN, mark="m1", chainage=8.4, note="lip 2") == told
    keeper.add_photograph(JPEG, when=WHEN, mark="m2", chainage=9.0)
    assert [each.chainage for each in keeper.photographs()] == [8.4, 9.0]


@pytest.mark.parametrize(
    ("raw", "says"),
    [(b"", "no photograph"), (b"<svg><script/></svg>", "no photograph"), (b"\xff\xd8\xff" + bytes(20_000_000), "MB")],
    ids=["nothing", "drawing", "large"],
)
def test_what_is_no_photograph_is_refused(keeper: Keeper, raw: bytes, says: str) -> None:
    with pytest.raises(JobError, match=says):
        keeper.add_photograph(raw, when=WHEN, mark="m1")
    assert keeper.photographs() == ()


def test_a_photograph_nobody_sent(keeper: Keeper) -> None:
    with pytest.raises(JobError, match="no such photograph"):
        keeper.photograph("0" * 64)


def test_the_diary_is_only_added_to(keeper: Keeper) -> None:
    words = "Ran 2 h.\r\nPool 1 down 4 mm 🌧\n"
    keeper.write_diary(words, when=WHEN, mark="m1")
    keeper.write_diary(words, when=WHEN, mark="m1")
    keeper.write_diary("dry", when=WHEN - timedelta(days=1), mark="m2")
    assert [each.text for each in keeper.diary()] == [words, "dry"]
