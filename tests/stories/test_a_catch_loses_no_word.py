"""What is typed of a catch goes where it belongs, or is asked about; no word of it is lost in a note or dropped."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story

NAME = "Coenonympha hero"


def her(story: Story, code: str = "") -> tuple[str, str, str]:
    founders = story.desk.bench.founders
    one = founders[code or next(reversed(founders))]
    caught = one.caught.astimezone(story.desk.zone) if one.caught else None
    return one.place, f"{caught:%d %b %H:%M}" if caught else "", one.wear


@pytest.mark.parametrize(
    ("said", "place", "caught"),
    [
        ("caught at Ried between 14:00 and 15:00", "Ried", "20 May 14:00"),
        ("caught at Ried between 14:00 and 15:00 on 18 may", "Ried", "18 May 14:00"),
        ("caught at Ried 18 may from 14:00 to 15:00", "Ried", "18 May 14:00"),
        ("from Ried 14:00-15:00", "Ried", "20 May 14:00"),
    ],
)
def test_between_two_hours(story: Story, said: str, place: str, caught: str) -> None:
    story.at("2027-05-20 18:00")
    (told,) = story.type(f"A7 1 female {NAME} {said}")
    assert her(story) == (place, caught, "")
    assert "note '" in told
    assert "14:00" in told.partition("note '")[2]
    assert "15:00" in told.partition("note '")[2]
    assert "caught between 14:00 and 15:00" in story.refused(
        f"A8 1 female {NAME} between 14:00 and 15:00"
    )


def test_a_name_behind_that_of_the_species_is_asked_about(story: Story) -> None:
    story.type("K5 set up laying")
    told = story.refused(f"K5 founder W42 {NAME}, Ried, collector FN")
    assert "'Ried' behind the name: its place, or a note?" in told
    story.type(f"K5 founder W42 {NAME} from Ried, collector=FN")
    assert her(story, "W42")[0] == "Ried"


@pytest.mark.parametrize("said", [", Ried, 12 may, collector FN", ", 12 may", " on 12 may"])
def test_a_bare_day_behind_the_name_may_be_that_of_the_catch(story: Story, said: str) -> None:
    story.at("2027-05-10 07:00").type("K5 set up laying")
    story.at("2027-05-20 18:00")
    told = story.refused(f"K5 founder W42 {NAME}{said}")
    assert "'12 may': caught then, or here since then?" in told
    story.type(told.partition("As: ")[2].partition("; or:")[0])
    assert her(story, "W42")[1] == "12 May 12:00"


@pytest.mark.parametrize(
    ("said", "field", "value"),
    [
        ("collected by FN", "collector", "FN"),
        ("worn", "wear", "worn"),
        ("slightly worn", "wear", "slight"),
        ("fresh", "wear", "fresh"),
        ("46.5531 6.0712", "longitude", 6.0712),
        ("47°11'03\"N 8°32'01\"E", "latitude", 47.184167),
    ],
)
def test_it_is_said_later_as_it_is_when_she_comes_in(
    story: Story, said: str, field: str, value: object
) -> None:
    story.type(f"K5 1 female {NAME}")
    (code,) = story.desk.bench.founders
    story.type(f"{code} {said}")
    founder = story.desk.bench.founders[code]
    expected = pytest.approx(value) if isinstance(value, float) else value
    assert (founder.taxon, getattr(founder, field)) == (NAME, expected)


def test_fresh_behind_a_comma_is_of_her_and_a_place_behind_it_is_asked_about(story: Story) -> None:
    story.type(f"K7 1 female {NAME} on bistort, fresh")
    assert her(story)[2] == "fresh"
    assert "'Ried' is not understood" in story.refused(f"B7 1 male {NAME} fresh Ried")


@pytest.mark.parametrize(
    "line",
    [
        "1 Jun 10:00 K2 founder W2 taxon=levana place='Fen X' caught='1 Jun'",
        "1 Jun 10:00 Q3 12 eggs levana place='Fen Y' caught='1 Jun'",
        "1 Jun 10:00 Q4 4 larvae levana place='Fen Y' caught='1 Jun' on nettle",
    ],
)
def test_the_day_of_the_catch_is_good_before_noon(story: Story, line: str) -> None:
    story.at("2027-05-30 08:00").type("taxon 'Araschnia levana' short=levana", "K2 set up laying")
    story.at("2027-06-05 08:00").type(line)
    row = story.shell("export", "occurrences", "-", "--wild-only").out.splitlines()[-1]
    assert ",2027-06-01," in row, row
    later = line.replace("caught='1 Jun'", "caught='2 Jun'").replace("W2", "W3")
    assert "came in; give the catch an earlier time" in story.refused(later)
    hour = line.replace("caught='1 Jun'", "caught='1 Jun 12:30'").replace("W2", "W3")
    assert "came in; give the catch an earlier time" in story.refused(hour)


def test_she_is_held_from_when_she_came_in_where_the_noon_of_her_day_is_later(
    story: Story,
) -> None:
    story.at("2027-06-01 09:00").type(
        "taxon 'Araschnia levana' short=levana",
        "K2 set up laying",
        "permit P-1 hold_hours=48 taxon='Araschnia levana'",
    )
    story.at("2027-06-02 08:00").type(
        "1 Jun 10:00 K2 founder W2 taxon=levana place='Fen X' caught='1 Jun' permit=P-1"
    )
    assert "in danger from Thu 10:00" in story.shell("due", "--within", "48h").out
