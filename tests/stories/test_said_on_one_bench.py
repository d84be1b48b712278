"""Lines as a keeper says them at one bench: times behind a plant, a code behind another, and who is counted, missing or drank."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell

SPECIES = "Callophrys arenosa"


async def typed_behind(story: Story, code: str, line: str) -> str:
    """Type a line in the prompt that opens with a code; what the message line says then."""
    async with story.screens() as screen:
        screen.highlight(code)
        await screen.press("t")
        await screen.pilot.press(*("space" if letter == " " else letter for letter in line))
        await screen.press("enter")
        return screen.message


async def test_a_new_cup_typed_behind_the_one_begun_is_the_one_meant(story: Story) -> None:
    story.at("2027-06-01 07:00").type(f"K7 2 females {SPECIES} on blackthorn")
    await typed_behind(story, "K7", f"K8 1 female {SPECIES} on gorse")
    assert story.desk.bench.containers["K8"].females == 1
    assert [host.plant for host in story.desk.bench.containers["K8"].hosts] == ["gorse"]
    assert story.desk.bench.containers["K7"].females == 2


@pytest.mark.parametrize("line", ["K8 2 females", "K8 Callophrys female", "K8"])
async def test_what_is_refused_of_a_new_cup_never_leads_to_a_note_of_another(
    story: Story, line: str
) -> None:
    story.at("2027-06-01 07:00").type(f"K7 2 females {SPECIES} on blackthorn")
    told = await typed_behind(story, "K7", line)
    assert "K8" in told
    assert "note" not in told


async def test_an_instar_behind_a_cup_is_no_cup(story: Story) -> None:
    story.at("2027-06-01 07:00").type("K7 8 L2 Callophrys arenosa on gorse")
    assert "how many are in L3 now? As: K7 moulted" in await typed_behind(story, "K7", "L3")


@pytest.fixture
def laying(story: Story) -> Story:
    """Two cups of females on the morning of the third day."""
    story.at("2027-06-01 07:00")
    tell(story, f"K7 2 females {SPECIES} on blackthorn\nK2 2 females {SPECIES} on gorse")
    return story.at("2027-06-03 08:30")


@pytest.mark.parametrize(
    ("line", "at"),
    [
        ("K2 6 eggs on gorse last night at 22:10", "2027-06-02T22:10"),
        ("K2 6 eggs on gorse last night at 10", "2027-06-02T22:00"),
        ("K2 6 eggs on gorse last night 1:30", "2027-06-03T01:30"),
        ("K2 6 eggs last night 22:10 on gorse", "2027-06-02T22:10"),
        ("K2 6 eggs on gorse 22:10 last night", "2027-06-02T22:10"),
        ("K2 last night at 22:10 6 eggs on gorse", "2027-06-02T22:10"),
        ("K2 searched 6 on gorse yesterday evening 7:30", "2027-06-02T19:30"),
        ("K2 searched 6 on gorse this morning at 7", "2027-06-03T07:00"),
        ("K2 searched 6 on gorse at 7:15", "2027-06-03T07:15"),
        ("K2 searched 6 on gorse just now", "2027-06-03T08:30"),
    ],
)
def test_a_time_behind_a_plant_is_a_time(laying: Story, line: str, at: str) -> None:
    laying.type(line)
    found = next(entry for entry in laying.on_disk() if entry["what"] == "searched")
    assert found["at"].startswith(at), found
    assert (found["plant"], found.get("where")) == ("gorse", None)
    assert found["found"] == 6


@pytest.mark.parametrize(
    ("line", "asked"),
    [
        ("K7 3 eggs on blackthorn last night", "last night at what time?"),
        ("K7 searched 2 on blackthorn this morning", "this morning at what time?"),
        ("K7 searched 2 yesterday evening on blackthorn", "yesterday evening at what time?"),
        ("K7 last night 3 eggs", "last night at what time?"),
        ("K7 drank overnight", "overnight at what time?"),
    ],
)
def test_a_part_of_a_day_without_its_hour_is_asked_about(
    laying: Story, line: str, asked: str
) -> None:
    before = laying.on_disk()
    told = laying.refused(line)
    assert told.startswith(asked)
    time = told.rpartition("as: ")[2]
    assert laying.on_disk() == before
    laying.type(line.replace(asked.removesuffix(" at what time?"), time))


def test_free_words_may_have_a_part_of_a_day(laying: Story) -> None:
    laying.type("K7 note she sat still last night")
    assert laying.on_disk()[-1]["text"] == "she sat still last night"
    laying.type("K7 drank -- seen last night")
    assert any(entry.get("text") == "seen last night" for entry in laying.on_disk())


@pytest.mark.parametrize("plants", ["gorse, rockrose", "rockrose, gorse"])
async def test_she_lays_on_one_plant_and_leaves_the_other_alone(story: Story, plants: str) -> None:
    """Nothing is missing while she lays on one of two plants; once she lays on neither it is asked of hers."""
    story.at("2027-06-01 07:00").type(f"K7 1 female {SPECIES} on {plants}")
    for day in range(2, 6):
        story.at(f"2027-06-{day:02} 18:30").type("K7 looked", "K7 drank", "room 20/24")
        story.type("K7 searched 4 gorse", "K7 searched 0 rockrose")
    assert "change" not in story.due("K7")
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        text = screen.words
    assert "She lays on gorse and leaves rockrose alone: no change is needed." in text
    assert "gorse: 16 eggs" in text
    assert "no eggs on record from another plant" not in text
    for day in range(6, 9):
        story.at(f"2027-06-{day:02} 18:30").type("K7 looked", "K7 drank", "room 20/24")
        story.type("K7 searched 0")
        assert ("change" in story.due("K7")) == (day == 8)
    assert (
        "no new eggs in 3.0 warm, fed female-days on gorse"
        in story.due("K7")["change"]["arithmetic"]
    )
    async with story.screens(size=(110, 50)) as screen:
        await screen.press("i")
        assert "No new eggs since 5 Jun (16 eggs before, on gorse)" in screen.words


def test_a_plant_set_beside_one_that_had_eggs_begins_a_wait_of_its_own(story: Story) -> None:
    story.at("2027-06-01 07:00").type(f"K7 1 female {SPECIES} on gorse")
    story.at("2027-06-02 18:30").type("K7 drank", "room 20/24", "K7 searched 4")
    for day in range(3, 6):
        story.at(f"2027-06-{day:02} 18:30").type("K7 drank", "room 20/24", "K7 searched 0")
    assert "change" in story.due("K7")
    story.type("K7 host in rockrose leaf")
    assert "change" not in story.due("K7")


def test_females_are_counted_where_all_adults_are_females(laying: Story) -> None:
    laying.type("K2 searched 3", "K2 counted 2 females")
    assert (laying.on_disk()[-1]["number"], laying.on_disk()[-1]["stage"]) == (2, "adult")
    laying.type("K5 1 female, 1 male Callophrys arenosa on gorse")
    assert "as: K5 counted 2 adults" in laying.refused("K5 counted 2 females")


def test_an_unmarked_one_is_an_adult_where_only_adults_are_marked(laying: Story) -> None:
    laying.type("K2 searched 3")
    first, second = sorted(
        code for lot in laying.desk.bench.at("K2").lots_of("adult") for code in lot.codes
    )
    laying.type(f"{first} marked red", "K2 missing 1 unmarked")
    newest = laying.on_disk()[-1]
    assert (newest["what"], newest["stage"], newest["brood"]) == ("missing", "adult", second)
    laying.type("K2 missing found dead")
    assert laying.on_disk()[-1]["fate"] == "dead"
    told = laying.refused("K2 died 1 unmarked")
    assert told.startswith(f"K2 holds none that is unmarked ({first} is marked red)")


def test_one_missing_is_asked_which_and_one_that_refused_is_taken_beside_one_that_drank(
    laying: Story,
) -> None:
    assert "say which" in laying.refused("K2 one female missing")
    laying.type("K2 one female missing not known")
    laying.type("K7 drank 1, 1 refused")
    assert [entry["what"] for entry in laying.on_disk()[-2:]] == ["drank", "refused"]


@pytest.mark.parametrize(
    "line",
    [
        f"K8 1 female {SPECIES} from Long Down yesterday evening",
        f"K8 2 females {SPECIES} on gorse last night",
        f"K2 founder W3 {SPECIES} female caught yesterday evening at Long Down",
    ],
)
def test_a_part_of_a_day_is_no_plant_and_no_place_of_a_catch(laying: Story, line: str) -> None:
    assert "at what time?" in laying.refused(line)
