"""One rule where two contradicted: a limit that went by, and the plant that larvae get next, read alike everywhere."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def test_a_permit_that_ran_out_is_past_on_lines_as_on_the_card(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(story, "permit P-12 females=3 expires=2027-05-03")
    story.at("2027-05-05 08:00")

    (line,) = [one for one in story.shell("due").out.splitlines() if "permit" in one]

    assert line.endswith("urgent, past the limit")


async def test_supplies_name_the_plants_that_the_answer_will_record(story: Story) -> None:
    """Of two plants in a cup both are taken again, whichever was put in last."""
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        taxon Aglais urticae
        L2 set up rearing
        brood B-1 taxon='Aglais urticae'
        L2 stocked B-1 12 larvae instar=4
        L2 host in hop cut=2027-05-01T07:00 kept=water
        L2 host in nettle cut=2027-04-29T07:00 kept=water
        """,
    )
    story.at("2027-05-02 09:00")

    async with story.screens(size=(120, 40)) as screen:
        await screen.press("k")

        for plant in ("hop", "nettle"):
            assert f"stems {plant}: L2 12 L3-L4 x 0.25 a day / 2 plants = 2" in screen.words
        await screen.press("escape", "r")
        await screen.walk_to("food", "L2")
        await screen.press("c", "enter", "3")
    hosts = story.desk.bench.containers["L2"].hosts
    assert sorted(host.plant for host in hosts) == ["hop", "nettle"]
    assert {host.put_in for host in hosts} == {story.desk.now()}
