"""A few seasons: nine in ten inside, whatever the change and the basis. The long form is ``python -m tests.calibration.seasons``."""

from __future__ import annotations

import pytest

from tests.calibration.seasons import CHANGES, Season, score
from tests.season.numbers import WORLDS

BASES = ("paper", "relative", "unknown")


@pytest.mark.parametrize("basis", BASES)
def test_nine_in_ten_come_inside_in_the_worlds_of_the_season(basis: str) -> None:
    told = [
        one for world in WORLDS for seed in range(7, 11) for one in Season(world, basis, seed).go()
    ]
    for change in dict.fromkeys(CHANGES):
        some = [one for one in told if one.change == change]
        own = [one for one in some if one.basis.endswith("own broods")]
        assert len(own) > 150
        for part in (some, own):
            # a dozen species scatter by some hundredths about what the long form tells
            assert 0.82 <= score(part).inside <= 0.99, change
            assert abs(score(part).bias) < 0.1, change
