"""Home from the field: coordinates, who caught her, the permit, how worn she is, how high the place
lies, said anywhere in the line that brings her in. Nothing of it is a date, a plant or a place."""

from __future__ import annotations

from typing import Any

import pytest

from tests.stories.telling import Story

SPECIES = "Coenonympha hero"
NOT_SAID = {"place": "", "latitude": None, "longitude": None, "collector": "", "permit": ""}


@pytest.fixture
def keeper(story: Story) -> Story:
    story.at("2027-07-08 20:15")
    story.type(f"taxon {SPECIES}", f"permit P-77 for {SPECIES} 10 females", "K5 set up laying")
    return story


def catch(keeper: Story, line: str) -> dict[str, Any]:
    """What a line says of one that comes in, which is shown before Enter; it records nothing
    beside."""
    shown, before = keeper.preview(line), len(keeper.on_disk())
    keeper.type(line)
    (entry,) = keeper.on_disk()[before:]
    assert entry["what"] == "founder"
    for name in ("place", "latitude", "longitude", "collector", "permit", "wear"):
        assert str(entry.get(name) or "") in shown, (name, shown)
    return NOT_SAID | entry


BY_CODE = ("K5 founder W{0} Coenonympha hero", "K5 female Coenonympha hero")


@pytest.mark.parametrize("begins", BY_CODE)
@pytest.mark.parametrize(
    "typed",
    [
        "46.5531 6.0712",
        "46.5531, 6.0712",
        "lat 46.5531 lon 6.0712",
        "46.5531N 6.0712E",
        "latitude=46.5531 longitude=6.0712",
    ],
)
def test_coordinates_are_coordinates(keeper: Story, begins: str, typed: str) -> None:
    one = catch(keeper, f"{begins.format(1)} at Fonds Noirs {typed}")
    assert (one["place"], one["latitude"], one["longitude"]) == ("Fonds Noirs", 46.5531, 6.0712)
    assert "caught" not in one
    assert "46.5531 6.0712" in keeper.desk.told([keeper.desk.entries()[-1]])


@pytest.mark.parametrize("begins", BY_CODE)
def test_a_number_behind_a_place_is_no_date(keeper: Story, begins: str) -> None:
    one = catch(keeper, f"{begins.format(1)} at Zone 3.5")
    assert (one["place"], one.get("caught")) == ("Zone 3.5", None)
    other = catch(keeper, f"{begins.format(2)} at Marais 7.2 caught 1 Jul")
    assert (other["place"], str(other["caught"])[:10]) == ("Marais 7.2", "2027-07-01")
    third = catch(keeper, f"{begins.format(3)} at Marais caught 3.5.")
    assert (third["place"], str(third["caught"])[:10]) == ("Marais", "2027-05-03")


def test_half_of_coordinates_is_asked(keeper: Story) -> None:
    for begins in BY_CODE:
        refused = keeper.refused(f"{begins.format(1)} at Fonds Noirs 46.5531")
        assert "give both in degrees north and east, as: lat 46.5531 lon 6.0712" in refused
        assert "from -90 to 90" in keeper.refused(f"{begins.format(1)} at Ried 96.5531 6.0712")


@pytest.mark.parametrize("begins", BY_CODE)
@pytest.mark.parametrize(
    "typed",
    [
        "at Fonds Noirs {} caught 1 Jul 12:00",
        "at Fonds Noirs caught 1 Jul 12:00 {}",
        "{} at Fonds Noirs caught 1 Jul 12:00",
        "at Fonds Noirs caught 1 Jul 12:00, {}",
    ],
)
@pytest.mark.parametrize(
    ("said", "field", "value"),
    [
        ("permit P-77", "permit", "P-77"),
        ("under permit P-77", "permit", "P-77"),
        ("collector=FN", "collector", "FN"),
        ("collector FN", "collector", "FN"),
        ("leg. FN", "collector", "FN"),
        ("country France", "country", "France"),
        ("wear worn", "wear", "worn"),
        ("46.5531 6.0712", "longitude", 6.0712),
    ],
)
def test_a_word_of_a_field_ends_any_name(
    keeper: Story, begins: str, typed: str, said: str, field: str, value: object
) -> None:
    one = catch(keeper, f"{begins.format(1)} {typed.format(said)}")
    assert (one["taxon"], one["place"]) == (SPECIES, "Fonds Noirs")
    assert one[field] == value
    assert str(one["caught"]).startswith("2027-07-01T12:00")


def test_all_of_it_in_one_line(keeper: Story) -> None:
    one = catch(
        keeper,
        f"K5 female {SPECIES} at Fonds Noirs, 1240 m, 46\u00b033'11\"N 6\u00b04'16\"E \u00b150 m, caught"
        " 1 Jul 12:00, collectors FN, AB, permit P-77, very worn",
    )
    assert (one["place"], one["uncertainty_m"], one["wear"]) == (
        "Fonds Noirs, 1240 m",
        50,
        "very worn",
    )
    assert (one["latitude"], one["longitude"]) == pytest.approx((46.553056, 6.071111))
    assert (one["collector"], one["permit"]) == ("FN, AB", "P-77")


def test_what_is_said_of_some_of_them_stays_a_note(keeper: Story) -> None:
    keeper.type(f"K5 2 females {SPECIES} at Fonds Noirs caught 1 Jul 12:00, one worn")
    assert [one.get("wear", "") for one in keeper.on_disk()[-3:]] == ["", "", ""]
    assert keeper.on_disk()[-1]["text"] == "one worn"


def test_her_record_is_made_better_with_the_same_words(keeper: Story) -> None:
    keeper.type(
        f"K5 founder W1 {SPECIES} at Fonds Noirs", "W1 collector FN", "W1 lat 46.55 lon 6.07"
    )
    her = keeper.desk.bench.founders["W1"]
    assert (her.collector, her.latitude, her.longitude) == ("FN", 46.55, 6.07)


@pytest.mark.parametrize(
    ("typed", "wanted"),
    [
        ("mark red at Ried caught 1 Jul", {"mark": "red", "place": "Ried"}),
        ("marked blue at Ried", {"mark": "blue", "place": "Ried"}),
        ("at Ried uncertainty 100 m lat 52.1234 lon 8.5678", {"uncertainty_m": 100.0}),
        ("at Ried; 52.1234/8.5678; 1 Jul", {"place": "Ried", "longitude": 8.5678}),
        ("at Ried by FN, slightly worn", {"collector": "FN", "wear": "slight"}),
        ("netted in the Ried, alt. 450 m", {"place": "the Ried, 450 m"}),
    ],
)
def test_each_says_what_it_says(keeper: Story, typed: str, wanted: dict[str, object]) -> None:
    one = catch(keeper, f"K5 1 female {SPECIES} {typed}")
    assert one["taxon"] == SPECIES
    assert {name: one[name] for name in wanted} == wanted


def test_the_weather_is_a_note_and_no_place(keeper: Story) -> None:
    keeper.type(f"K5 1 female {SPECIES} at Ried, sunny 22 C, caught 1 Jul")
    founder, note = keeper.on_disk()[-2:]
    assert (founder["place"], note["text"]) == ("Ried", "sunny 22 C")


def test_a_place_without_its_word_is_asked(keeper: Story) -> None:
    line = f"K5 1 female {SPECIES}, Lac de Joux, 1004 m, 46.6412N 6.2933E"
    assert f"a place is said as: {SPECIES} at Lac de Joux" in keeper.refused(line)


def test_a_question_repeats_all_that_was_typed(keeper: Story) -> None:
    asked = keeper.refused(f"K6 1 female {SPECIES} 5 Jul collector FN")
    assert asked.count("collector=FN") == 2


def test_a_code_without_its_verb_is_told_with_it(keeper: Story) -> None:
    refused = keeper.refused(f"K5 W41 {SPECIES} at Ried")
    assert f"one that comes in: K5 founder W41 {SPECIES} at Ried" in refused


def test_words_of_fields_in_quotes_are_a_name(keeper: Story) -> None:
    one = catch(keeper, f'K5 female {SPECIES} at "Collector lane 46.5531 6.0712"')
    assert (one["place"], one["latitude"]) == ("Collector lane 46.5531 6.0712", None)


def test_larvae_stand_on_the_plant_behind_the_catch(keeper: Story) -> None:
    keeper.at("2027-05-09 09:00")
    keeper.type("Q4 6 wild larvae Pieris napi at Quarry Lane caught 8 May 15:00 on garlic mustard")
    entries = {one["what"]: one for one in keeper.on_disk()}
    assert entries["host in"]["plant"] == "garlic mustard"
    assert "garlic" not in str(entries["stocked"])


@pytest.mark.parametrize("begins", ["K5 female", "K2 1 female", "K2 2f"])
@pytest.mark.parametrize(
    ("typed", "high"),
    [("9 m", "9 m"), ("5m", "5 m"), (", 12 m", "12 m"), ("52.3123 4.5212 15 m", "15 m")],
)
def test_a_low_place_makes_no_males(keeper: Story, begins: str, typed: str, high: str) -> None:
    keeper.type(f"{begins} {SPECIES} at Heath {typed}".replace(" ,", ","))
    founders = [line for line in keeper.on_disk() if line["what"] == "founder"]
    assert len(founders) == (2 if "2f" in begins else 1)
    assert {(one.get("sex"), one["place"]) for one in founders} == {("female", f"Heath, {high}")}


def test_males_beside_females_are_males(keeper: Story) -> None:
    assert keeper.preview(f"K2 2 f 1 m {SPECIES} at Heath").count("sex male") == 1
    behind = f"K2 2 f {SPECIES} at Heath, 1 m {SPECIES} at Heath"
    assert keeper.preview(behind).count("sex male") == 1


@pytest.mark.parametrize("behind", ["20 Jun 14:00", "caught 20 Jun 14:00", "Tue 6 Jul 14:00"])
def test_a_low_place_before_a_time(keeper: Story, behind: str) -> None:
    one = catch(keeper, f"K5 female {SPECIES} at Heath 9 m {behind}")
    assert (one["place"], str(one["caught"])[11:16]) == ("Heath, 9 m", "14:00")


@pytest.mark.parametrize("begins", BY_CODE)
@pytest.mark.parametrize("typed", ["52.31 4.52", "52.31, 4.52", ", 52.31 4.52,", "(52.31 4.52)"])
def test_coarse_coordinates_are_no_time(keeper: Story, begins: str, typed: str) -> None:
    one = catch(keeper, f"{begins.format(1)} at Heath {typed}".rstrip(",").replace(" ,", ","))
    assert (one["place"], one["latitude"], one["longitude"]) == ("Heath", 52.31, 4.52)
    assert "caught" not in one


@pytest.mark.parametrize("typed", ["51.44 3.57", "51.4 3.5"])
def test_young_with_coarse_coordinates_begin_now(keeper: Story, typed: str) -> None:
    keeper.type(f"Q3 7 larvae {SPECIES} at Heath {typed} on fescue")
    stocked = next(line for line in keeper.on_disk() if line["what"] == "stocked")
    assert stocked["at"][11:16] == "20:15"
    assert f"{stocked['latitude']} {stocked['longitude']}" == typed


@pytest.mark.parametrize("begins", BY_CODE)
def test_a_day_or_coordinates_is_asked(keeper: Story, begins: str) -> None:
    asked = keeper.refused(f"{begins.format(1)} at Wood 12.05 7.06")
    assert "As: lat 12.05 lon 7.06; or: caught 12.05 7:06" in asked
    one = catch(keeper, f"{begins.format(1)} at Wood caught 12.05 7.06")
    assert (one["place"], str(one["caught"])[5:16]) == ("Wood", "05-12T07:06")
    assert catch(keeper, f"{begins.format(2)} at Wood lat 12.05 lon 7.06")["latitude"] == 12.05


@pytest.mark.parametrize(
    "line",
    [
        "K2 female Coenonympha hero at Alp -- {}",
        "K2 female Coenonympha hero at Alp 2100 m caught 1 Jul 12:00 -- {}",
        "K5 2 females Coenonympha hero at Alp on violet -- {}",
        "Q3 7 larvae Coenonympha hero at Alp -- {}",
    ],
)
@pytest.mark.parametrize(
    "note", ["sunny, wind 2", "2 m above the path", "2 males seen on thyme", "gone by 14:00"]
)
def test_what_stands_behind_the_dashes_is_the_note(keeper: Story, line: str, note: str) -> None:
    before = len(keeper.on_disk())
    keeper.type(line.format(note))
    entries = keeper.on_disk()[before:]
    (place,) = {one["place"] for one in entries if one["what"] in ("founder", "stocked")}
    assert place.removesuffix(", 2100 m") == "Alp"
    assert [one["text"] for one in entries if one["what"] == "note"] == [note]
    assert {one["at"][11:16] for one in entries} == {"20:15"}
    assert not any(one.get("sex") == "male" for one in entries)


@pytest.mark.parametrize("said", ["in Heath 51.44 3.57, 9 m", "in Heath 9 m, lat 51.44 lon 3.57"])
def test_in_a_place_is_as_at_it(keeper: Story, said: str) -> None:
    one = catch(keeper, f"K5 female {SPECIES} {said}")
    assert (one["place"], one["latitude"], one["longitude"]) == ("Heath, 9 m", 51.44, 3.57)
    assert "caught" not in one


def test_so_many_metres_of_a_path_are_no_males(keeper: Story) -> None:
    one = catch(keeper, f"K5 female {SPECIES} at Heath 3 m N of the path")
    assert "Heath" in one["place"]
    assert "3 m" in one["place"]


@pytest.mark.parametrize("place", ["Heath", "Heath, 12 m"])
def test_a_day_behind_a_comma_is_no_kind(keeper: Story, place: str) -> None:
    keeper.type(f"K2 2 females {SPECIES} at {place}, 1 Jul 14:00")
    founders = [line for line in keeper.on_disk() if line["what"] == "founder"]
    assert {(one["place"], one["caught"][5:16]) for one in founders} == {(place, "07-01T14:00")}
    assert len(founders) == 2
