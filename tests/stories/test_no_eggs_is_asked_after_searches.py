"""Whether to change one thing is asked when searches found nothing, never on the evening a female came."""

from __future__ import annotations

import json

from tests.stories.telling import Story


def asked(story: Story) -> bool:
    return "no eggs?" in story.shell("due").out


def test_not_on_the_first_evening_nor_while_nobody_searched(story: Story) -> None:
    story.at("2027-06-03 18:20").type("K1 2 females Araschnia levana on nettle", "room 20/24")
    walked = story.shell("round", "--plain", typed="\n".join(["- no time"] * 9)).out

    assert "Did they drink?" in walked
    assert "No search. Nobody has searched yet." not in walked
    for day in ("04", "05", "06"):
        story.at(f"2027-06-{day} 07:05").type("K1 drank", "room 20/24")
        assert not asked(story)


def test_the_search_that_completes_a_day_brings_it_at_that_round(story: Story) -> None:
    story.at("2027-06-03 18:20").type(
        "K1 2 females Araschnia levana on nettle", "K1 drank", "room 20/24"
    )
    story.at("2027-06-04 07:05").type("K1 drank", "room 20/24")
    story.at("2027-06-04 18:10").type("K1 drank", "room 20/24", "K1 looked")
    assert not asked(story)

    story.type("K1 searched 0")
    assert asked(story)
    question = story.due("K1")["change"]["question"]  # true of those too that laid before
    assert question.startswith("No eggs were found lately.")


def test_not_while_what_may_be_eggs_is_not_settled(story: Story) -> None:
    story.at("2027-06-03 18:20").type("K1 2 females Araschnia levana on nettle", "K1 drank")
    story.at("2027-06-04 18:10").type("K1 drank", "room 20/24", "K1 maybe 6 eggs")
    story.at("2027-06-05 18:10").type("K1 drank", "room 20/24", "K1 searched 0")
    assert not asked(story)
    story.at("2027-06-06 18:10").type("K1 drank", "room 20/24")
    assert not asked(story)
    walked = "\n".join(story.at("2027-06-07 19:00").plain(["- no time"] * 9))
    assert not asked(story)
    assert "the 6 unsure are eggs" in walked
    story.type("K1 not eggs")
    assert asked(story)


def test_its_hours_stand_still_until_the_next_search(story: Story) -> None:
    """Those of one that is asked, and of one that is not yet."""
    story.at("2027-06-03 18:20").type(
        "K1 2 females Araschnia levana on nettle", "K1 drank", "room 20/24"
    )
    story.type("K2 female Araschnia levana on nettle", "K2 drank")
    story.at("2027-06-04 07:05").type("K1 drank", "K2 drank", "room 20/24")
    story.at("2027-06-04 18:10").type("K1 drank", "room 20/24", "K1 searched 0")

    def hours() -> list[tuple[str, str, str]]:
        dues = json.loads(story.shell("due", "--json", "--within", "3d").out)["due"]
        return [
            (one["where"], one["due"], one["amber"]) for one in dues if one["check"] == "change"
        ]

    first = hours()
    assert [where for where, *_ in first] == ["K1", "K2"]
    for at in ("18:15", "18:19"):
        story.at(f"2027-06-04 {at}")
        assert hours() == first
    story.at("2027-06-05 03:00")  # nobody searched K2, so that it waits for that
    assert hours() == first[:1]
