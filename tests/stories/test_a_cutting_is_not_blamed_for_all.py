"""What an animal died of, where it is known to be something else, is not told of the plant that it ate."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, tell


async def batches(story: Story) -> str:
    """The page of the cuttings."""
    async with story.screens((110, 40)) as screen:
        await screen.press("8")
        return screen.text


@pytest.mark.parametrize(
    ("cause", "is_told"),
    [("parasitised", False), ("old age", False), ("accident", False), ("killed", False), ("ants", False),
     ("", True), ("collapsed", True), ("unknown", True)],
)  # fmt: skip
async def test_deaths_of_another_cause_are_not_blamed_on_a_cutting(
    story: Story, cause: str, is_told: bool
) -> None:
    tell(story, "brood GG\nE4 set up rearing\nE4 stocked 15 L2 GG\nE4 host in Prunus leaf")
    story.later(hours=10).type(f"E4 died 7 {cause}")
    assert ("7 DIED" in await batches(story)) == is_told
