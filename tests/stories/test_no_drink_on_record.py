"""Where nothing was recorded the bench says that nothing is on record, not that it did not happen."""

from __future__ import annotations

from tests.stories.telling import Story, tell


async def top(story: Story) -> list[str]:
    """The lines of danger on the bench."""
    async with story.screens((120, 40)) as screen:
        return [
            row
            for row in screen.text.splitlines()
            if row[1:13].strip() in ("# in danger", "= urgent")
        ]


async def test_a_female_of_whom_no_drink_was_recorded(story: Story) -> None:
    story.at("2027-05-01 18:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W3 "Boloria dia" female place="Bank A" caught=2027-04-28
        """,
    )
    row = next(row for row in await top(story.at("2027-05-10 08:00")) if " K2 " in row)
    assert "1 female Boloria dia: no drink recorded since she came, 1 May 18:00" in row
    assert "has not drunk" not in row


async def test_two_females_that_drank_once_have_not_drunk_since(story: Story) -> None:
    story.at("2027-05-01 18:00")
    tell(
        story,
        """
        K2 set up laying
        K2 founder W3 "Boloria dia" female place="Bank A" caught=2027-04-28
        K2 founder W4 "Boloria dia" female place="Bank A" caught=2027-04-28
        K2 drank
        """,
    )
    row = next(row for row in await top(story.at("2027-05-03 08:00")) if " K2 " in row)
    assert "2 females Boloria dia have not drunk for 38 h" in row


async def test_larvae_that_were_never_looked_at(story: Story) -> None:
    story.at("2027-05-01 18:00")
    tell(
        story,
        """
        R4 set up rearing
        brood DIA-27/A taxon='Boloria dia'
        R4 host in Viola water
        R4 stocked 4 L3 DIA-27/A
        """,
    )
    story.at("2027-05-04 07:00").type("R4 host in Viola water")
    row = next(row for row in await top(story.at("2027-05-04 19:05")) if " R4 " in row)
    assert "4 L3 Boloria dia: no look recorded since Sat 18:00" in row


async def test_of_two_females_only_the_one_that_has_not_drunk_since_is_told(story: Story) -> None:
    story.at("2027-06-01 06:00").type("K3 2 females Boloria dia on violet", "K3 drank")
    story.at("2027-06-01 18:00").type("K3 drank 1")
    row = next(row for row in await top(story.at("2027-06-02 16:00")) if " K3 " in row)
    assert "2 females Boloria dia: 1 of 2 has not drunk for" in row
