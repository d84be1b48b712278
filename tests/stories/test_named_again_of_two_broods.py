"""Of two broods in one cup one died, nobody knows which; those that are named again began when their brood did."""

from __future__ import annotations

from tests.stories.telling import Story, tell


def test_who_is_named_again_began_when_its_brood_did(story: Story) -> None:
    story.at("2027-05-01 08:00")
    tell(
        story,
        """
        brood A-1/A taxon='Aglais io'
        brood B-1/A taxon='Aglais io'
        R2 set up rearing
        K2 set up pupation
        R2 stocked 3 larvae L5 brood=A-1/A
        R2 stocked 3 larvae L5 brood=B-1/A
        """,
    )
    story.at("2027-05-03 08:00").type("R2 pupated 3 brood=A-1/A")
    story.at("2027-05-06 08:00").type("R2 pupated 3 brood=B-1/A")
    story.at("2027-05-07 08:00").type("R2 died 1 pupa not known")
    story.at("2027-05-08 08:00").type("R2 moved 3 pupae B-1/A to K2")
    (moved,) = story.desk.bench.at("K2").lots
    (stayed,) = story.desk.bench.at("R2").lots
    assert (moved.number, f"{moved.since:%d}", f"{moved.latest:%d}") == (3, "06", "06")
    assert (stayed.number, f"{stayed.since:%d}", f"{stayed.latest:%d}") == (2, "03", "03")
