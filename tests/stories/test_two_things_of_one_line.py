"""Lines that say two things at once as they come to mind: limp and changed, eggs with where each was, all of them sprayed, a list with commas."""

from __future__ import annotations

import pytest

from rounds.app.running_bench import read_table
from tests.stories.telling import Story, tell

CUP = "K3 1 female Boloria dia on violet\n"


@pytest.mark.parametrize(
    "line", ["K3 violet limp, changed", "K3 limp, changed", "K3 limp and changed"]
)
def test_it_was_limp_and_was_changed(story: Story, line: str) -> None:
    tell(story, CUP)
    story.later(days=1).type(line)
    said = [(one["what"], one.get("state")) for one in story.on_disk()[-3:]]
    assert said == [
        ("host seen", "limp"),
        ("host out", None),
        ("host in", None),
    ]


def test_so_many_eggs_and_where_each_was(story: Story) -> None:
    tell(story, CUP)
    story.later(hours=5).type("K3 3 eggs, 2 on bud 1 on leaf")
    finds = [(one["found"], one["where"]) for one in story.on_disk() if one["what"] == "searched"]
    assert finds == [(2, "bud"), (1, "leaf")]
    assert "4 eggs, but 2 and 1 are 3; mend one of them" in story.refused(
        "K3 4 eggs, 2 on bud 1 on leaf"
    )


@pytest.mark.parametrize("line", ["sprayed all", "misted all"])
def test_all_of_them_sprayed_asks_which(story: Story, line: str) -> None:
    tell(story, CUP)
    assert "all of which? Say the containers first, as: K3 misted" in story.refused(line)


def test_a_list_with_commas(story: Story) -> None:
    now = story.at("2027-05-20 18:00").desk.clock.local_now()
    listed = "K3, 1 female Colias hyale, horseshoe vetch, Sat, sill 2\nK4, 1f 1m Colias hyale, worn"
    table = read_table(listed, story.desk.bench, now, story.desk.zone)
    first, second = table.rows
    assert (first.plant["plant"], first.shelf, first.places) == ("horseshoe vetch", "sill", [2])
    assert first.since
    assert first.since.day == 15
    assert not table.troubles
    assert second.held[0].behind == "worn" or second.held[-1].behind == "worn"
