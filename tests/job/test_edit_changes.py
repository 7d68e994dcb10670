"""What changed between two texts, in words. The sentences are those a person would write, by hand."""

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from beckwright.job.edit import changes, edit, read_edit

EXAMPLES = Path(__file__).parents[2] / "examples"
HAZEL = (EXAMPLES / "hazel_bank" / "job.toml").read_text(encoding="utf-8")


def said(*edits: dict[str, object], text: str = HAZEL) -> list[str]:
    new = text
    for one in edits:
        new = edit(new, read_edit(one))
    return [str(change) for change in changes(text, new)]


def test_nothing_changed() -> None:
    assert changes(HAZEL, HAZEL) == ()
    assert changes(HAZEL, HAZEL.replace("# riven slab", "# sawn slab")) == ()


def test_levels_and_lengths_are_told_by_the_reach_they_belong_to() -> None:
    assert said({"do": "set level", "lip": "lip 2", "level_m": 100.67}) == [
        "Run 2, fall from 260 mm to 240 mm",
        "Lip 2, drop from 220 mm to 240 mm",
    ]
    assert said({"do": "slide reach", "reach": 3, "by_m": 0.25}) == [
        "Run 2, length from 4 m to 4.25 m",
        "Run 3, length from 3.3 m to 3.05 m",
    ]


def test_a_change_has_its_key_and_both_values() -> None:
    [one] = changes(HAZEL, edit(HAZEL, read_edit({"do": "set flow", "name": "full", "l_h": 9500})))
    assert (one.key, one.what, one.before, one.after) == ("flows.full", "flows, full", "9000 l/h", "9500 l/h")


def test_points_are_told_as_points() -> None:
    assert said({"do": "take point", "point": 5})[0] == "Course, point 6 taken out: (6.83, 5.599) m"
    assert said({"do": "add point", "after": 4, "x_m": 7.5, "y_m": 6})[0] == "Course, point 6 added: (7.5, 6) m"
    assert said({"do": "move point", "point": 12, "x_m": -0.8, "y_m": -0.5})[0] == (
        "Course, point 13 from (-0.764, -0.485) m to (-0.8, -0.5) m"
    )


def test_points_of_the_hose_and_the_lower_end_are_told() -> None:
    """By hand, Hazel Bank's first stretch is 1.3038 m: through (-2, -0.6) it is 0.5 + 0.8062, 2 mm more."""
    assert said({"do": "add hose point", "after": 0, "x_m": -2, "y_m": -0.6}) == [
        "Hose, length from 23 m to 23.002 m",
        "Hose, point 2 added: (-2, -0.6) m",
    ]
    assert said({"do": "take hose point", "point": 12})[1] == "Hose, point 13 taken out: (13.1, 9) m"
    assert said({"do": "set lower end", "level_m": 99.81}) == [
        "Course, end level from 99.85 m to 99.81 m",
        "Run 4, fall from 180 mm to 220 mm",
    ]


def test_a_reach_added_and_one_taken_out_are_told_once() -> None:
    reach = {"kind": "run", "length_m": 1.5, "fall_mm": 100, "width_mm": 600, "bed": "pebbles"}
    assert said({"do": "add reach", "after": 3, "reach": reach}) == [
        "Run 2, length from 4 m to 2.5 m",
        "Run 2, fall from 260 mm to 160 mm",
        'Run 3 added: kind "run", length 1.5 m, fall 100 mm, width 600 mm, bed "pebbles"',
    ]
    assert said({"do": "take reach", "reach": 4}, {"do": "take reach", "reach": 2}, text=_dark()) == [
        'Pool 1 taken out: kind "pool", length 1 m, width 1200 mm, depth 200 mm',
        "Run 2, length from 4 m to 5 m",
        "Run 2, fall from 260 mm to 480 mm",
        'Lip 2 taken out: kind "step", drop 220 mm, lip width 600 mm, lip "round edge"',
    ]


def _dark() -> str:
    """Hazel Bank without its lights."""
    head, rest = HAZEL.split("[[lights]]", 1)
    return head + rest[rest.index("[[views]]") :]


def test_trees_are_told_by_name() -> None:
    assert said({"do": "set value", "key": "trees.2", "value": None}) == [
        'Tree T2 taken out: name "T2", species "birch", x 8 m, y 1.6 m, stem 280 mm, protected false'
    ]
    row = {"name": "T4", "x_m": 1, "y_m": 2, "stem_mm": 300}
    assert said({"do": "add row", "key": "trees", "row": row}) == [
        'Tree T4 added: name "T4", x 1 m, y 2 m, stem 300 mm'
    ]
    assert said({"do": "set value", "key": "trees.3.stem_mm", "value": 360}) == ["Tree T3, stem from 350 mm to 360 mm"]


def test_what_was_not_there_before() -> None:
    assert said({"do": "set value", "key": "tolerances.dig_mm", "value": 15}) == ["Tolerances, dig added: 15 mm"]
    assert said({"do": "set value", "key": "site.groundwater_winter_m", "value": None}) == [
        "Site, groundwater winter taken out: 1.3 m"
    ]


def test_a_value_that_became_another_kind_is_a_change() -> None:
    assert [str(one) for one in changes("[a]\nb = 1\n", "[a]\nb = true\n")] == ["A, b from 1 to true"]
    assert [str(one) for one in changes("[a]\nb = 1\n", "[a.b]\nc = 1\n")] == ["A, b from 1 to c 1"]


rows = st.lists(st.sampled_from("abcdef"), max_size=7, unique=True)


@given(rows, rows)
def test_every_row_taken_out_or_added_is_told_once(old: list[str], new: list[str]) -> None:
    """Law: rows that differ in all they hold are each gone, added or the same; order of what stays aside."""

    def text(names: list[str]) -> str:
        return "".join(f'[[trees]]\nname = "{name}"\nx_m = {ord(name)}\n' for name in names)

    told = [str(one) for one in changes(text(old), text(new))]
    assert bool(told) == (old != new)
    for name in set(old) ^ set(new):
        assert any(f'"{name}"' in sentence or f"Tree {name}" in sentence for sentence in told)


@given(st.sampled_from(sorted(path.parent.name for path in EXAMPLES.glob("*/job.toml"))), st.data())
@settings(max_examples=20)
def test_two_jobs_can_be_told_apart_both_ways(name: str, data: st.DataObject) -> None:
    """Law: what is added one way is taken out the other way."""
    other = data.draw(st.sampled_from([each for each in ("hazel_bank", "withy_lane") if each != name]))
    one, two = ((EXAMPLES / each / "job.toml").read_text(encoding="utf-8") for each in (name, other))
    there, back = changes(one, two), changes(two, one)
    assert {c.key for c in there if not c.before and "." not in c.key} == {
        c.key for c in back if not c.after and "." not in c.key
    }
    assert len(there) == len(back)
