"""Who was first known by a count after some had died was not at risk before."""

from __future__ import annotations

import pytest

from tests.stories.telling import Story, survival, tell


def test_a_later_count_leaves_the_deaths_before_as_they_were(story: Story) -> None:
    """Five of ten died; ten more that were counted after that do not make it five of twenty."""
    story.at("2027-07-20 08:00")
    tell(
        story,
        """
        1 Jul 07:12 E2 set up rearing
        1 Jul 08:00 E2 10 eggs Zygaena transalpina laid 1 Jul 06:00 until 1 Jul 07:00
        8 Jul 08:00 E2 hatched 10
        11 Jul 08:00 E2 died 5
        """,
    )
    before = survival(story, "ZYG-27-01")
    tell(story, "14 Jul 08:00 E2 counted 15")
    after = survival(story, "ZYG-27-01")
    assert after[-1] == before[-1]
    assert after[-1][1] == pytest.approx(0.5)
    tell(story, "16 Jul 08:00 E2 died 3")  # of the 15 that there were then
    assert survival(story, "ZYG-27-01")[-1][1] == pytest.approx(0.5 * 12 / 15, abs=0.006)
