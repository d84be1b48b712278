"""Whatever is put in, taken out, moved, searched, looked at or closed: no kept stem is lost unless it was discarded."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rounds.app.desk import Desk, Recorded
from rounds.app.prompt_line import say_phrase
from rounds.daybook import Daybook
from tests.conftest import Clock
from tests.stories.telling import ZONE

CUPS = ("K2", "K3")
BOXES = ("E2", "E3", "E4")
cups, boxes, anywhere = (
    st.sampled_from(CUPS),
    st.sampled_from(BOXES),
    st.sampled_from((*CUPS, *BOXES)),
)
few = st.integers(1, 9)
where = st.sampled_from(["", " lot=1", " lot=2", " lot=1,2", " lot=all"])
stems = st.one_of(st.just(""), few.map(lambda number: f" {number} stems"))

# What takes no stem off the bench.
KEEPING = st.one_of(
    st.builds("{} host in plantago leaf {} sprigs".format, cups, few),
    st.builds("{} host in veronica leaf {} sprigs".format, cups, few),
    st.builds("{} host out{} held in {}".format, anywhere, stems, anywhere),
    st.builds("{} host out{}{} held in {}".format, anywhere, where, stems, anywhere),
    st.builds("{} host out held".format, anywhere),
    st.builds("{} host out{} fridge".format, boxes, where),
    st.builds("{} searched {} brood=MOR-27-01/A{}".format, anywhere, st.integers(0, 3), where),
    st.builds("{} searched {} unsure".format, anywhere, few),
    st.builds("{} frass {}{}".format, boxes, st.sampled_from(["none", "trace", "plain"]), where),
    st.builds("{} moved 1 to {}".format, anywhere, anywhere),
    st.builds("{} merged from {}".format, anywhere, anywhere),
    st.builds("{} cleaned".format, anywhere),
    st.builds("{} changed inside={}".format, boxes, boxes),
    st.builds("{} changed to rearing".format, boxes),
    st.builds("{} closed".format, anywhere),
    st.builds("{} set up eggs".format, anywhere),
)


def kept(desk: Desk) -> int:
    """Stems kept anywhere on the bench."""
    return sum(held.sprigs or 0 for container in desk.bench.standing() for held in container.held)


def standing(desk: Desk) -> int:
    """Stems standing in a container with females, or that stood with them."""
    return sum(host.sprigs or 0 for container in desk.bench.standing() for host in container.hosts)


@given(st.lists(st.tuples(KEEPING, st.integers(1, 900)), min_size=4, max_size=30))
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
def test_no_kept_stem_is_lost_unless_it_was_discarded(lines: list[tuple[str, int]]) -> None:
    with TemporaryDirectory() as folder:
        clock = Clock(datetime(2027, 5, 20, 7, 0, tzinfo=ZONE))
        ids = iter(range(1, 1_000_000))
        desk = Desk(
            Daybook.open(Path(folder) / "book", "aaaa1111"),
            clock=clock,
            entropy=lambda size: next(ids).to_bytes(size, "big"),
            zone=ZONE,
            keeper="KM",
        )
        for line in (
            "K2 set up laying",
            "K2 founder MOR-27-01, Melitaea cinxia female",
            "K3 set up laying",
            "K3 founder MOR-27-02, Melitaea cinxia female",
            "brood MOR-27-01/A mothers=MOR-27-01",
            *(f"{box} set up eggs" for box in BOXES),
            "K2 host in plantago leaf 9 sprigs",
            "K2 host out 5 stems held in E2",
        ):
            assert isinstance(say_phrase(desk, line), Recorded), line
        for line, minutes in lines:
            clock.now += timedelta(minutes=minutes)
            before, stood = kept(desk), standing(desk)
            lots = {held.lot for one in desk.bench.standing() for held in one.held}
            outcome = say_phrase(desk, line)
            if not isinstance(outcome, Recorded):
                assert (kept(desk), standing(desk)) == (before, stood), line
                continue
            assert kept(desk) >= before, line
            names = [held.lot for one in desk.bench.standing() for held in one.held]
            assert lots <= set(names), line
            assert len(names) == len(set(names)), line
            if "host out" in line and "fridge" not in line:
                assert kept(desk) + standing(desk) == before + stood, line
        assert not any(
            "closed with" in one.text or "no such host" in one.text for one in desk.bench.oddities
        )
