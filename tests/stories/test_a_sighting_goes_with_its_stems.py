"""What may be eggs is on its stems: it goes where they are kept, and is settled there."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story


@pytest.fixture
def seen(story: Story) -> Story:
    story.at("2027-06-05 07:20").type("K3 2 females Lycaena phlaeas on sorrel", "S2 set up eggs")
    story.later(hours=10).type("K3 searched 2 unsure")
    return story


def waits(story: Story) -> dict[str, int]:
    return {
        code: sum(one.number for one in cup.unsure)
        for code, cup in story.desk.bench.containers.items()
        if cup.unsure
    }


def test_it_is_confirmed_where_its_stems_are_kept(seen: Story) -> None:
    seen.type("K3 host out held in S2")
    assert waits(seen) == {"S2": 2}
    seen.later(days=1)
    assert "went with its stems to S2; as: S2 confirmed 2" in seen.refused("K3 confirmed 2")
    seen.type("S2 confirmed 2")
    bench = seen.desk.bench
    assert (bench.at("S2").count("egg"), bench.at("K3").count("egg")) == (2, 0)
    (brood,) = bench.broods.values()
    assert brood.laid_to.hour == 17, "laid before it was seen"
    assert waits(seen) == {}


def test_a_search_of_new_stems_does_not_settle_it(seen: Story) -> None:
    seen.type("K3 host changed, old kept")
    seen.later(hours=9).type("K3 searched 0 lens")
    assert waits(seen) == {"K3": 2}
    seen.type("K3 confirmed 2")
    assert [lot.eggs for lot in seen.desk.bench.at("K3").held] == [2]


def test_it_goes_on_with_them(seen: Story) -> None:
    seen.type("S3 set up eggs", "K3 host out held in S2")
    seen.later(hours=3).type("S2 host out held in S3")
    assert waits(seen) == {"S3": 2}
    assert "S3 confirmed 2" in seen.refused("K3 confirmed 2")
    seen.type("S3 not eggs")
    assert waits(seen) == {}


def test_of_two_plants_it_may_be_on_it_waits_where_it_was_seen(story: Story) -> None:
    story.at("2027-06-05 07:20").type(
        "K3 2 females Lycaena phlaeas on sorrel and dock", "S2 set up eggs"
    )
    story.later(hours=9).type("K3 searched 2 unsure", "K3 host out sorrel held in S2")
    assert waits(story) == {"K3": 2}


def test_what_was_seen_is_not_discarded_unasked(seen: Story) -> None:
    told = seen.refused("K3 host out discarded")
    assert "2 eggs seen on it, not sure: first K3 confirmed 2, or K3 not eggs" in told
    seen.type("K3 host out held in S2")
    told = seen.refused("S2 host out discarded")
    assert "2 eggs seen on it, not sure: first S2 confirmed 2, or S2 not eggs" in told
    assert waits(seen) == {"S2": 2}
    seen.type("S2 not eggs")
    assert "not sure" not in seen.refused("S2 host out discarded")


def test_they_are_not_asked_away_while_it_is_not_settled(seen: Story) -> None:
    seen.type("K3 host out held in S2")
    for day in range(60):
        seen.later(days=1)
        if not day % 4:
            seen.type("room 18/26")
        seen.type("S2 frass none")
    assert "keep" not in seen.due("S2")
    seen.type("S2 not eggs")
    assert "keep" in seen.due("S2")
    seen.type("S2 host out discarded")
    assert waits(seen) == {}


def test_sure_they_go_all_the_same(seen: Story) -> None:
    seen.type("K3 host out held in S2", "S2 host out discarded sure")
    assert waits(seen) == {}


def test_standing_stems_that_are_discarded_take_it_along(seen: Story) -> None:
    seen.later(hours=9).type("K3 host out discarded sure")
    assert waits(seen) == {}
