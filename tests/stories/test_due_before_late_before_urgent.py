"""A check is due before it is late, and late before it is urgent, whatever its hours rest on."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def test_a_host_kept_dry_is_never_urgent_before_it_is_due(story: Story) -> None:
    story.at("2027-05-01 12:00")
    tell(story, "K5 set up laying\nK5 founder W-5, Parasa lepida female")
    story.later(minutes=1).type("K5 host in persimmon dry")
    for at in ("05-01 20:00", "05-02 07:00", "05-02 20:00", "05-03 07:00"):
        story.at(f"2027-{at}")
        tell(story, "K5 drank\nK5 searched 0\nK5 host fresh\nK5 looked")
        hours = next(one for one in story.desk.dues() if one.check == "host" and one.where == "K5")
        assert hours.late is not None
        assert hours.urgent is not None
        assert hours.due <= hours.late <= hours.urgent, (at, hours.due, hours.late, hours.urgent)


def test_no_check_of_the_bench_is_late_before_it_is_due(story: Story) -> None:
    story.at("2027-05-01 12:00")
    tell(story, "K5 set up laying\nK5 founder W-5, Parasa lepida female\nK5 host in persimmon dry")
    for day in (1, 2, 3):
        for at in ("12:05", "20:24"):
            story.at(f"2027-05-0{day} {at}")
            for one in story.desk.dues():
                hours = [at for at in (one.due, one.late, one.urgent) if at is not None]
                assert hours == sorted(hours), (one.where, one.check, hours)
