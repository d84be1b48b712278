"""What was in diapause is no forecast that failed, and teaches neither forecasts nor the line of development."""

from __future__ import annotations

from tests.stories.telling import Screen, Story, tell


def _log(story: Story, place: str, *rows: tuple[str, float]) -> None:
    file = story.folder.parent / f"{place}-{rows[-1][0][:10]}.csv"
    file.write_text("time,temperature (C)\n" + "".join(f"{at},{warmth}\n" for at, warmth in rows))
    assert story.shell("temperatures", str(file), "--place", place).status == 0
    story.reopen()


def _text(screen: Screen) -> str:
    return " ".join(screen.text.replace("▏", " ").split())


def _wintered_pupae(story: Story, *, emerged: bool) -> None:
    story.at("2026-08-01 08:00")
    tell(
        story,
        """
        shelf set up shed apart
        shelf set up cellar apart
        taxon 'Clostera curtula' family=Notodontidae
        brood B2 taxon='Clostera curtula'
        brood B3 taxon='Clostera curtula'
        P2 set up pupation shelf=shed
        P2 stocked 30 L5 B2
        P3 set up pupation shelf=cellar
        P3 stocked 30 L5 B3
        P2 pupated 30
        P3 pupated 30
        P2 changed purpose=overwintering
        P3 changed purpose=overwintering
        """,
    )
    story.at("2027-04-20 08:00")
    months = [("2026", month) for month in range(8, 13)] + [
        ("2027", month) for month in range(1, 5)
    ]
    days = [
        f"{year}-{month:02}-{day:02} {hour:02}:00"
        for year, month in months
        for day in range(2, 20)
        for hour in range(0, 24, 2)
    ]
    _log(story, "shed", *((day, 4 + int(day[8:10]) % 3) for day in days))
    _log(story, "cellar", *((day, 9 + int(day[8:10]) % 3) for day in days))
    story.type("P2 changed purpose=emergence", "P3 changed purpose=emergence")
    if emerged:
        story.type("P3 emerged 10 females")
    story.at("2027-05-11 08:00")
    if emerged:
        story.type("P2 emerged 10 females")
    tell(
        story,
        """
        room 16/22
        brood B4 taxon='Clostera curtula'
        R4 set up rearing
        R4 stocked 10 L5 B4
        R4 pupated 10
        """,
    )


async def test_pupae_that_wintered_do_not_bring_summer_pupae_forward(story: Story) -> None:
    _wintered_pupae(story, emerged=True)
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop")
        await screen.pilot.pause()
        assert "1 of 181 degree-days" in _text(screen)
        assert "half 1 Jun 04:46" in _text(screen)


async def test_the_same_is_expected_without_them(story: Story) -> None:
    _wintered_pupae(story, emerged=False)
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop")
        await screen.pilot.pause()
        assert "half 1 Jun 04:46" in _text(screen)


async def test_a_line_of_development_rests_on_no_pupa_that_wintered(story: Story) -> None:
    _wintered_pupae(story, emerged=True)
    async with story.screens((120, 60)) as screen:
        await screen.press("z", "enter")
        await screen.pilot.pause()
        told = _text(screen)
        assert "-57" not in told
        assert "17514" not in told
        assert "pupa, in diapause" in told


def _eggs(story: Story) -> None:
    story.at("2026-07-10 15:00")
    tell(
        story,
        """
        shelf set up garden apart
        L3 set up laying
        L3 founder W4 'Malacosoma neustria' female
        """,
    )
    story.later(hours=20).type("L3 180 eggs")
    story.at("2026-07-13 15:00").type(
        "E4 set up overwintering shelf=garden", "L3 moved 180 eggs to E4"
    )
    story.at("2027-04-18 08:00").type("E4 hatched 145", "garden 6/18")


async def test_eggs_that_wintered_are_no_forecast_that_failed(story: Story) -> None:
    _eggs(story)
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop")
        await screen.pilot.pause()
        assert "0 of 145" not in _text(screen)
        await screen.press("c")
        await screen.pilot.pause()
        assert "E4" not in _text(screen)


async def test_young_larvae_of_wintered_eggs_keep_their_forecast_when_their_cup_is_a_rearing_cup(
    story: Story,
) -> None:
    _eggs(story)
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop")
        await screen.pilot.pause()
        before = _text(screen)
        assert "they have wintered" not in before
        (expected,) = [row for row in screen.text.splitlines() if "E4 moult" in row]
    story.type("E4 changed rearing")
    async with story.screens((120, 40)) as screen:
        await screen.press("full_stop")
        await screen.pilot.pause()
        assert "they have wintered" not in _text(screen)
        assert expected in screen.text.splitlines()
        left = [row for row in screen.text.splitlines() if "E4 hatch" in row]
        assert len(left) == 1
        assert "no date" in left[0]  # the eggs that are left have wintered
