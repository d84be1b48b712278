"""The life-history note: every figure it owes, what is missing named, hostile text inert, and a real browser that opens it."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from markdown_it import MarkdownIt
from scipy.stats import beta, binomtest, poisson

from rounds.exchange.atomic_file import ExportRefused
from rounds.exchange.document_html import document_html
from rounds.exchange.document_markdown import document_markdown
from rounds.exchange.note import note
from rounds.exchange.plot_svg import svg
from rounds.views.plots import Plot, PlotMark, PlotSeries
from tests.exchange.browser import asked_for, needs_browser, overflow, run
from tests.exchange.conftest import HOSTILE, Told

ExportTo = Callable[..., Path]


def rear(
    told: Told, taxon: str = "Boloria dia", place: str = "bank above the ford", more: str = ""
) -> None:
    """A small brood from the mother's coming to its adults' release."""
    told.log(
        f"taxon '{taxon}' short=dia family=Nymphalidae{more}",
        "permit WP-7 holder='A. Keeper' body='nature office' taxon='Boloria dia' females=3",
        "L2 set up laying", "E3 set up eggs", "R4 set up rearing",
    )  # fmt: skip
    told.say_founder(taxon, place)
    told.log("L2 host in violet leaf", "air 20C 60%")
    for story in (
        ("L2 searched 20 lens", "L2 moved 20 eggs to E3"), (), (),
        ("E3 hatched 15", "E3 died 5 eggs collapsed", "E3 moved 15 larvae to R4", "R4 host in violet leaf"), (),
        ("R4 moulted 12 L2", "R4 died 3 L1 dry"), (), ("R4 pupated 10", "R4 counted 1 stage=larva"), (),
        ("R4 emerged 9", "R4 preserved 1 adult brood=QUE-26-02/A voucher=AK-117 depository='town museum'"),
        ("R4 released 8 adults 'bank above the ford'",),
    ):  # fmt: skip
        told.on(hours=12)
        told.log("air 24C 70%")
        told.on(hours=12)
        told.log("air 24C", *story)


def say_founder(self: Told, taxon: str, place: str) -> None:
    """The mother comes in, mated."""
    from rounds.entries import registry as k

    self.record(
        k.FounderIntake, container="L2", code="QUE-26-02", taxon=taxon, place=place, latitude=48.8571, longitude=2.3522,
        uncertainty_m=50, caught=self.clock.now, collector="A. Keeper", wear="worn", inspected="none seen", permit="WP-7",
    )  # fmt: skip


Told.say_founder = say_founder  # type: ignore[attr-defined]


def told_in(told: Told, code: str = "QUE-26-02/A") -> str:
    """The note as Markdown without its escapes."""
    return document_markdown(note(told.source(), code)).decode().replace("\\", "")


def test_it_owes_place_days_females_laying_stages_temperatures_survival_hosts_vouchers_and_permits(
    told: Told,
) -> None:
    rear(told)
    text = told_in(told)

    assert (
        "| QUE-26-02 | 20 May 2026 | bank above the ford | 48.8571, 2.3522 | 50 | A. Keeper | female, worn |"
        in text
    )
    # one day to the only search, which finds 60 %, known as well as by four eggs: the two tails of
    # a Poisson count (Garwood 1936), averaged over the share
    row = re.search(r" \| 1\.0 \| 1 \| 20 \| 60 % \| 33 \(([\d.]+) to ([\d.]+)\) \|", text)
    assert row, text
    low, high = (float(one) for one in row.groups())
    shares = beta(0.6 * 4, 0.4 * 4).ppf((np.arange(10_000) + 0.5) / 10_000)
    assert poisson.sf(19, low * shares).mean() == pytest.approx(0.025, abs=0.003)
    assert poisson.cdf(20, high * shares).mean() == pytest.approx(0.025, abs=0.001)
    share = binomtest(15, 20).proportion_ci(method="exact")
    assert (
        f"| egg | 20 | 5 | - | - | - | - | - | 0.75 ({share.low:.2f} to {share.high:.2f}) |" in text
    )
    assert "| egg | 15 | 3.5 | 3.5 | 3.5 | 24.0 | 15 |" in text
    assert "| L1 | 12 | 2.0 | 2.0 | 2.0 | 24.0 | 12 |" in text
    assert "| pupa | 9 | 2.0 | 2.0 | 2.0 | 24.0 | 9 |" in text
    assert "laid on violet: 20 eggs" in text
    assert "adult, fed on violet: 9 animals" in text
    assert "| AK-117 | 1 | adult | town museum | 30 May 2026 |" in text
    assert "| WP-7 | A. Keeper | nature office | not recorded | 1 of 3 females" in text
    assert "released: 8 (8 adults)" in text
    assert "Released at: bank above the ford." in text
    assert "Humidity read: 70 to 70 %, 11 readings." in text  # the 60 % were before its eggs


def test_what_was_not_said_is_named_as_missing(told: Told) -> None:
    told.log(
        "brood QB-2 taxon='Boloria dia'",
        "P4 set up pupation",
        "P4 stocked 6 pupae QB-2 -- from a friend",
    )
    told.on(days=3)
    told.log("P4 emerged 2")
    text = told_in(told, "QB-2").split("## What is missing")[1]

    for wanted in (
        "Its mother.", "Between when it was laid.", "A wild-caught forebear with place and date.",
        "How long the pupa took: its begin or its end was not seen.", "The plant that it was laid on.", "The plant that it was fed on.",
        "A specimen kept as proof of the name.",
    ):  # fmt: skip
        assert wanted in text, wanted
    assert "Origin as said: from a friend." in told_in(told, "QB-2")


def test_a_logger_and_photos_stand_in_it(told: Told) -> None:
    from rounds.entries import registry as k

    rear(told)
    told.record(
        k.LoggerRead, file="series/R4-0123456789ab.csv", rows=1440, since=told.clock.now - timedelta(days=8), until=told.clock.now - timedelta(days=2),
        low_c=21.5, high_c=26.0, container="R4",
    )  # fmt: skip
    told.record(k.Photo, file="adult.jpg", brood="QUE-26-02/A", stage="adult")
    told.record(k.Photo, file="egg.jpg", brood="QUE-26-02/A", stage="egg")
    text = told_in(told)

    assert "A logger at R4 wrote 1,440 readings, 23 May 2026 to 29 May 2026: 21.5 to 26 C." in text
    assert "Photos: egg.jpg (egg, 31 May 2026), adult.jpg (adult, 31 May 2026)." in text


def test_places_of_protected_taxa_are_generalised_and_exact_only_where_that_was_asked(
    told: Told,
) -> None:
    rear(told, more=" protected")
    whole = document_html(note(told.source(), "QUE-26-02/A")).decode()
    assert "48.85," in whole  # the middle of its cell of 0.1 degrees
    for exact in ("ford", "48.857", "2.3522"):
        assert exact not in whole, exact
    assert "exact place withheld" in whole.casefold()
    assert (
        "bank above the ford"
        in document_html(note(told.source(exact=True), "QUE-26-02/A")).decode()
    )


class Inert(HTMLParser):
    """Fails on anything that a browser would run or fetch."""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        assert tag not in {
            "script",
            "img",
            "iframe",
            "object",
            "embed",
            "link",
            "base",
            "form",
            "a",
            "video",
            "audio",
        }, tag
        for name, value in attrs:
            assert not name.startswith("on"), name
            assert name not in {"src", "href", "xlink:href", "srcset", "action", "style"}, (
                tag,
                name,
                value,
            )


@pytest.mark.parametrize("hostile", HOSTILE)
def test_hostile_text_is_shown_and_never_obeyed(told: Told, hostile: str) -> None:
    from rounds.entries import registry as k

    told.log("L2 set up laying")
    told.record(
        k.FounderIntake,
        container="L2",
        code="QB-2",
        taxon=hostile[:100],
        place=hostile,
        collector=hostile[:60],
    )
    told.record(k.HostIn, container="L2", plant=hostile[:60])
    told.on(days=1)
    told.record(k.Searched, container="L2", found=3)
    told.record(
        k.Preserved,
        container="L2",
        number=1,
        stage="egg",
        voucher=hostile[:50],
        depository=hostile[:80],
    )
    (code,) = told.desk.bench.broods
    found = note(told.source(), code)
    page = document_html(found).decode()
    Inert().feed(page)
    assert "\x1b" not in page
    assert "\u202e" not in page
    tokens = MarkdownIt("commonmark").enable("table").parse(document_markdown(found).decode())
    kinds = {child.type for token in tokens for child in (token.children or [])} | {
        token.type for token in tokens
    }
    assert not kinds & {
        "html_block",
        "html_inline",
        "link_open",
        "image",
        "bullet_list_open",
        "ordered_list_open",
        "em_open",
        "strong_open",
    }
    shown = "".join(child.content for token in tokens for child in (token.children or []))
    assert hostile.replace("\t", " ")[:6].strip("\x1b\u202e") in shown or "‹" in shown


def test_an_independent_reader_finds_the_same_tables_in_markdown(told: Told) -> None:
    rear(told)
    found = note(told.source(), "QUE-26-02/A")
    tokens = MarkdownIt("commonmark").enable("table").parse(document_markdown(found).decode())
    tables = [part for section in found.sections for part in section.parts if hasattr(part, "rows")]
    headings = [
        tokens[place + 1].content
        for place, token in enumerate(tokens)
        if token.type == "heading_open"
    ]

    assert sum(token.type == "table_open" for token in tokens) == len(tables)
    assert sum(token.type == "tr_open" for token in tokens) == sum(
        len(table.rows) + 1 for table in tables
    )  # type: ignore[union-attr]
    assert len(headings) == len(found.sections) + 1


def test_the_picture_is_whole_xml_and_each_step_stands_where_its_number_says() -> None:
    plot = Plot(
        "a < b & c",
        "days",
        "share",
        (PlotSeries("f", (PlotMark(0, 1), PlotMark(5, 0.5, 0.25, 0.75)), "steps"),),
        (0, 10),
        (0, 1),
    )
    root = ElementTree.fromstring(svg(plot))
    space = "{http://www.w3.org/2000/svg}"

    path = next(one.get("d") for one in root.iter(f"{space}path") if one.get("stroke-width") == "2")
    assert path == "M70.0 34.0H348.0V169.0H626.0V169.0"
    (band,) = root.iter(f"{space}rect")
    assert (band.get("y"), band.get("height")) == ("101.5", "135.0")
    assert root.find(f"{space}title").text == "a < b & c: share by days"  # type: ignore[union-attr]


def test_who_is_no_brood_is_refused_and_her_brood_named(told: Told) -> None:
    rear(told)
    with pytest.raises(
        ExportRefused, match="QUE-26-02 is a founder; give one of her broods, as QUE-26-02/A"
    ):
        note(told.source(), "QUE-26-02")
    with pytest.raises(ExportRefused, match="no brood is called QX"):
        note(told.source(), "QX")


def test_the_command_writes_by_the_files_ending(
    told: Told, export: ExportTo, tmp_path: Path
) -> None:
    rear(told)
    from rounds.shell.main import main

    export("csv", "entries.csv")  # makes the folder
    for name, begins in (
        ("n.md", b"# Life history of Boloria dia"),
        ("n.html", b"<!doctype html>"),
    ):
        file = tmp_path / "out" / name
        assert main(["export", "note", "QUE-26-02/A", str(file)]) == 0
        assert file.read_bytes().startswith(begins)
    assert main(["export", "note", "QUE-26-02/A", str(tmp_path / "out" / "n.txt")]) == 1
    assert main(["export", "note", "QX", str(tmp_path / "out" / "m.md")]) == 1
    assert not (tmp_path / "out" / "m.md").exists()


@needs_browser
def test_a_real_browser_opens_it_without_asking_for_anything(told: Told, tmp_path: Path) -> None:
    rear(told, place="<img src=http://127.0.0.1:9/x>")
    page = tmp_path / "note.html"
    page.write_bytes(document_html(note(told.source(), "QUE-26-02/A")))
    dom = run(page, tmp_path, "--dump-dom")

    assert "<svg" in dom
    assert "What is missing" in dom
    assert asked_for(page, tmp_path) == set()
    outside = tmp_path / "outside.html"  # the same look sees an address where there is one
    outside.write_text("<img src='http://127.0.0.1:9/x.png'>", encoding="utf-8")
    assert asked_for(outside, tmp_path) == {"http://127.0.0.1:9/x.png"}


@needs_browser
def test_it_fits_a_phone_and_prints(told: Told, tmp_path: Path) -> None:
    rear(
        told,
        taxon="Boloria dia",
        place="a place whose name goes on and on along the bank above the ford",
    )
    page = tmp_path / "note.html"
    page.write_bytes(document_html(note(told.source(), "QUE-26-02/A")))

    assert overflow(page, tmp_path, 360) == 0
    wide = tmp_path / "wide.html"
    wide.write_text("<!doctype html><div style='width:900px'>x</div>", encoding="utf-8")
    assert overflow(wide, tmp_path, 360) > 0
    printed = tmp_path / "note.pdf"
    run(page, tmp_path, f"--print-to-pdf={printed}", "--no-pdf-header-footer")
    assert printed.read_bytes().startswith(b"%PDF-")
