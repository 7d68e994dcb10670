"""The plant table is whole, the lists name what the laws name, and names are told apart by more than their genus."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beckwright.stages.planting import look_up, plain
from beckwright.stages.planting.fit import fits, laws_here
from beckwright.tables.plants import LAWS, LISTED, PLANTS, Listed, Plant


def names_on(law: str) -> set[str]:
    return {row.name for row in LISTED if LAWS[law] in row.laws}


@pytest.mark.parametrize("row", PLANTS, ids=lambda row: row.name)
class TestRow:
    def test_every_fact_is_there_and_can_be(self, row: Plant) -> None:
        assert re.match(r"^[A-Z][a-z]+ (× )?[a-z-]+$", row.name)
        assert row.english
        assert set() < set(row.zones) <= {"wet", "damp", "dry"}
        assert set() < set(row.light) <= {"sun", "part shade", "shade"}
        assert 0.01 <= row.height <= 30
        assert 0.05 <= row.spread <= 15
        assert set(row.months) <= set(range(1, 13))
        assert bool(row.months) or row.kind in ("fern", "bamboo")
        assert bool(row.colour) is bool(row.months)
        assert row.evergreen in ("yes", "semi", "no")
        assert row.kind in ("herb", "sedge", "grass", "fern", "bulb", "shrub", "tree", "bamboo")
        assert row.roots in ("clump", "creeping", "stabbing", "seeking")
        assert row.spreads in ("low", "medium", "high")

    def test_it_says_how_it_is_known(self, row: Plant) -> None:
        assert row.known == "from memory" or "stored page" in row.known

    def test_plants_stand_no_farther_apart_than_they_grow_wide(self, row: Plant) -> None:
        assert 0.1 <= row.spacing <= row.spread * 1.35

    def test_every_name_of_it_finds_it(self, row: Plant) -> None:
        for name in (row.name, *row.synonyms, row.english, f"{row.name} 'Any Cultivar'", f"  {row.name.upper()} L."):
            assert look_up(name).plant == row, name


def test_no_name_means_two_plants() -> None:
    names = [plain(name) for row in PLANTS for name in (row.name, *row.synonyms, row.english)]
    assert len(names) == len(set(names))
    listed = [plain(name) for row in LISTED for name in (row.name, *row.synonyms, *row.english)]
    assert len(listed) == len(set(listed))


def test_the_table_is_long_enough_for_every_zone_and_light() -> None:
    assert len(PLANTS) >= 60
    for zone in ("wet", "damp", "dry"):
        for light in ("sun", "part shade", "shade"):
            assert fits(zone, light, "England", tallest=1.2), (zone, light)  # type: ignore[arg-type]


def test_what_goes_through_a_lining_is_marked() -> None:
    """Reeds, bulrush, running bamboo; willow, poplar, alder: site facts, section 9."""
    stabbing = {row.name for row in PLANTS if row.roots == "stabbing"}
    assert {"Phragmites australis", "Typha latifolia", "Phyllostachys aurea"} <= stabbing
    assert {row.name for row in PLANTS if row.roots == "seeking"} >= {"Salix caprea", "Populus tremula"}


def test_flowering_months_on_stored_pages() -> None:
    """Yellow flag May to August, brooklime May to September (county wildlife charity); marsh marigold from March,
    usually until May (page on waterside plants); water plantain June to September (dealer in water plants)."""
    for name, first, last in (
        ("Iris pseudacorus", 5, 8),
        ("Veronica beccabunga", 5, 9),
        ("Caltha palustris", 3, 5),
        ("Alisma plantago-aquatica", 6, 9),
    ):
        row = look_up(name).plant
        assert row is not None
        assert row.months == tuple(range(first, last + 1)), name


def test_h11_plants_that_may_not_be_sold_in_england() -> None:
    """Sale ban of 6 April 2014, as a stored page lists it (site check H11)."""
    assert names_on("england-2014") == {
        "Azolla filiculoides",
        "Crassula helmsii",
        "Hydrocotyle ranunculoides",
        "Ludwigia grandiflora",
        "Ludwigia peploides",
        "Ludwigia uruguayensis",
        "Myriophyllum aquaticum",
    }
    assert LAWS["england-2014"].date == "6 April 2014"


@pytest.mark.parametrize(
    "name",
    [
        "Lysichiton americanus",
        "Cabomba caroliniana",
        "Eichhornia crassipes",
        "Pontederia crassipes",
        "Elodea nuttallii",
        "Lagarosiphon major",
        "Gunnera tinctoria",
        "Impatiens glandulifera",
    ],
)
def test_h12_plants_on_the_union_list(name: str) -> None:
    """Site check H12: stored table of 2020; Gunnera and Impatiens from memory there, on a stored page of 2017 here."""
    assert laws_here(look_up(name).listed, "European Union")


@pytest.mark.parametrize(
    ("law", "count"),
    [("union-2016", 14), ("union-2017", 9), ("union-2019", 13), ("union-2022", 4), ("union-2025", 7)],
)
def test_as_many_plants_as_each_regulation_added(law: str, count: int) -> None:
    """Counts of 2016 to 2022: the plant health organisation of Europe, reporting service 2022/178. 2025: seven plants,
    a trade page of August 2025."""
    assert len(names_on(law)) == count


def test_the_plants_added_in_2019() -> None:
    """Recital of Implementing Regulation (EU) 2019/1262, plants only; Prosopis is now Neltuma."""
    assert names_on("union-2019") == {
        "Acacia saligna",
        "Ailanthus altissima",
        "Andropogon virginicus",
        "Cardiospermum grandiflorum",
        "Cortaderia jubata",
        "Ehrharta calycina",
        "Gymnocoronis spilanthoides",
        "Humulus scandens",
        "Lespedeza cuneata",
        "Lygodium japonicum",
        "Neltuma juliflora",
        "Salvinia molesta",
        "Triadica sebifera",
    }


@pytest.mark.parametrize("law", LAWS.values(), ids=lambda law: law.key)
def test_every_list_says_what_it_is(law: object) -> None:
    from beckwright.tables.plants import Law

    assert isinstance(law, Law)
    assert law.law
    assert law.date
    assert law.places
    assert law.forbids in ("sale", "keeping", "the wild")
    assert law.seen
    assert names_on(law.key)


@pytest.mark.parametrize("row", LISTED, ids=lambda row: row.name)
def test_every_name_of_a_listed_plant_finds_it(row: Listed) -> None:
    assert row.laws
    for name in (row.name, *row.synonyms, *row.english, f"{row.name} Anybody", row.name.lower().replace("×", "x")):
        assert look_up(name).listed == row, name


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("Eichhornia crassipes 'Major'", "Pontederia crassipes"),
        ("water hyacinth", "Pontederia crassipes"),
        ("parrots feather", "Myriophyllum aquaticum"),
        ("Parrot’s feather", "Myriophyllum aquaticum"),
        ("Crassula recurva", "Crassula helmsii"),
        ("Tillaea helmsii", "Crassula helmsii"),
        ("New Zealand pigmyweed", "Crassula helmsii"),
        ("Elodea crispa", "Lagarosiphon major"),
        ("Fallopia japonica", "Reynoutria japonica"),
        ("Polygonum cuspidatum", "Reynoutria japonica"),
        ("Lysichitum americanum", "Lysichiton americanus"),
        ("Gunnera x cryptica", "Gunnera × cryptica"),
    ],
)
def test_synonyms_and_trade_names(written: str, meant: str) -> None:
    """Pages on banned plants (stored) for Crassula, Elodea crispa and Eichhornia; the other synonyms from memory."""
    listed = look_up(written).listed
    assert listed is not None
    assert listed.name == meant


@pytest.mark.parametrize(
    "harmless",
    [
        "Pontederia cordata",
        "Lysichiton camtschatcensis",
        "Hydrocotyle vulgaris",
        "Impatiens noli-tangere",
        "Myriophyllum spicatum",
        "Ludwigia palustris",
        "Crassula ovata",
        "Heracleum sphondylium",
        "Lamium galeobdolon",
    ],
)
def test_a_harmless_sister_is_not_taken_for_the_invasive_one(harmless: str) -> None:
    named = look_up(harmless)
    assert named.listed is None
    assert named.sold_as is None
    assert not named.near_listed
    assert named.sisters == ()


@pytest.mark.parametrize("alone", ["Azolla", "Ludwigia sp.", "crassula"])
def test_a_genus_alone_is_asked_about(alone: str) -> None:
    assert look_up(alone).sisters
    assert look_up(alone).listed is None


@pytest.mark.parametrize(
    ("written", "near", "listed"),
    [
        ("Caltha palustria", "Caltha palustris", False),
        ("Osmunda regali", "Osmunda regalis", False),
        ("Crassula helmsi", "Crassula helmsii", True),
        ("Impatients glandulifera", "Impatiens glandulifera", True),
        ("Nothing whatever", "", False),
        ("", "", False),
    ],
)
def test_a_slip_of_the_pen_is_told(written: str, near: str, listed: bool) -> None:
    named = look_up(written)
    assert (named.plant, named.listed) == (None, None)
    assert named.near == near
    assert named.near_listed is listed


@pytest.mark.parametrize("other", ["Primula veris", "Bugle weed", "Geum urbanum", "Iris"])
def test_another_plant_is_not_a_slip_of_the_pen(other: str) -> None:
    """Other species of a genus in the table, and a word that begins like an English name."""
    named = look_up(other)
    assert (named.plant, named.near) == (None, "")


def test_what_is_offered_instead_stays_where_it_is_put() -> None:
    for row in fits("wet", "sun", "USA", tallest=3.0):
        assert (row.roots, row.spreads) == ("clump", "low")
        assert not laws_here(look_up(row.name).listed, "USA")


@given(st.text(max_size=60))
def test_any_name_is_answered(written: str) -> None:
    named = look_up(written)
    assert named.given == written
    assert not (named.near and (named.plant or named.listed))
