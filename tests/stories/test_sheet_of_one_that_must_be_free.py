"""One that must be free while the keeper is away is told before leaving: no helper lets her go."""

from __future__ import annotations

from tests.stories.telling import Story, tell

BENCH = """
    permit P-12 females=3 hold_hours=96
    K2 set up laying
    K2 founder W-1, 'Melitaea celans' female caught=2027-04-30 permit=P-12
    K3 set up laying
    K3 founder W-2, 'Melitaea celans' female
    K2 host in veronica leaf water
    K3 host in veronica leaf water
    K2 drank
    K3 drank
    K3 release by 2027-05-03 12:00
"""


def warned(story: Story, back: str) -> list[str]:
    """What 'rounds sheet' says beside the sheet of her who must be free."""
    ran = story.shell("sheet", "--to", back)
    assert ran.status == 0, ran.err
    return [line for line in ran.err.splitlines() if " release" in line]


def test_the_sheet_says_by_when_each_must_be_free(story: Story) -> None:
    tell(story.at("2027-05-01 07:05"), BENCH)
    assert warned(story, "+4d") == [
        "rounds: before you leave: K3 release, W-2 by Mon 3 May 12:00 at the latest, no helper does it",
        "rounds: before you leave: K2 release, W-1 by Tue 4 May 12:00 at the latest, no helper does it",
    ]
    assert len(warned(story, "+60h")) == 1
    assert warned(story, "+1d") == []


async def test_the_page_of_an_absence_says_that_her_time_comes(story: Story) -> None:
    tell(story.at("2027-05-01 07:05"), BENCH + "K2 release by 2027-05-02 20:00")
    async with story.screens((140, 60)) as screen:
        await screen.press("b")
        (line,) = [
            line for line in screen.text.splitlines() if "release" in line and "late" in line
        ]
    assert line.endswith("its time comes, whatever was done before")
