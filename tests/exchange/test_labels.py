"""Labels: the square read by an independent reader, the words as a drawer needs them, nothing that a page would obey."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta
from html.parser import HTMLParser
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image, ImageDraw

from rounds.app.desk import Desk
from rounds.entries import registry as k
from tests.exchange.browser import asked_for, needs_browser, run
from tests.exchange.conftest import HOSTILE, Told

SCALE = 8


class Page(HTMLParser):
    """A page as a browser takes it apart: its elements, their attributes, and its text."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def page(path: Path) -> Page:
    """A page read back."""
    return Page(path.read_text(encoding="utf-8"))


def drawn(svg_path: str, size: int) -> Image.Image:
    """The strokes of a square's SVG path painted on white: only 'M x y', 'm dx dy' and 'h dx' are in it."""
    picture = Image.new("L", (size * SCALE, size * SCALE), 255)
    brush = ImageDraw.Draw(picture)
    x = y = 0.0
    for command, numbers in re.findall(r"([Mmh])([-\d. ]+)", svg_path):
        values = [float(one) for one in re.findall(r"-?[\d.]+", numbers)]
        if command == "M":
            x, y = values
        elif command == "m":
            x, y = x + values[0], y + values[1]
        else:
            brush.rectangle(
                (x * SCALE, (y - 0.5) * SCALE, (x + values[0]) * SCALE - 1, (y + 0.5) * SCALE - 1),
                fill=0,
            )
            x += values[0]
    return picture


def squares(found: Page) -> list[str]:
    """What the independent reader reads in each square of a page."""
    sizes = [int(str(attrs["viewbox"]).split()[2]) for tag, attrs in found.elements if tag == "svg"]
    paths = [str(attrs["d"]) for tag, attrs in found.elements if tag == "path"]
    read = []
    for path, size in zip(paths, sizes, strict=True):
        (barcode,) = zxingcpp.read_barcodes(drawn(path, size))
        assert barcode.format == zxingcpp.BarcodeFormat.QRCode
        read.append(barcode.text)
    return read


def test_every_container_has_a_square_that_says_its_code(
    demo_desk: Desk, export: Callable[..., Path]
) -> None:
    found = page(export("labels", "labels.html"))

    standing = {container.code for container in demo_desk.bench.standing()}
    assert sorted(squares(found)) == sorted(standing)


def test_a_label_says_code_stock_brood_and_date(told: Told, export: Callable[..., Path]) -> None:
    told.log("L2 set up laying", "L2 founder QUE-26-02, Boloria dia female", "L5 set up eggs")
    told.on(days=3)
    told.log("L2 searched 12 lens")

    text = page(export("labels", "labels.html", "--for", "L2")).text

    for words in ("L2", "laying", "1 f, 12 eggs dia", "QUE-26-02", "QUE-26-02/A", "20 May 2026"):
        assert words in text
    assert "L5" not in text


@pytest.mark.parametrize("code", ["R7", "K7-code/with_bits", "kä7"])
def test_codes_of_any_shape_are_read(told: Told, export: Callable[..., Path], code: str) -> None:
    told.record(k.SetUp, container=code, purpose="rearing")

    assert squares(page(export("labels", "labels.html"))) == [code]


def test_wrong_names_and_sizes_are_refused(
    told: Told, export: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    export("labels", "labels.html", status=1)
    assert "nothing stands on this bench yet" in capsys.readouterr().err
    told.log("L2 set up laying")

    export("labels", "labels.html", "--for", "L9", status=1)
    assert "no container is called L9; there are: L2" in capsys.readouterr().err
    export("labels", "labels.html", "--size", "big", status=1)
    assert "--size is 'big'" in capsys.readouterr().err


def vouchers(told: Told) -> None:
    """Specimens ex ovo, ex larva, and one as it was caught."""
    told.log("L2 set up laying", "R2 set up rearing", "Q2 set up quarantine")
    caught = {
        "place": "Quendon heath, ride 3",
        "latitude": 51.9471,
        "longitude": -0.2049,
        "uncertainty_m": 50,
        "collector": "K. Moor",
    }
    told.record(
        k.FounderIntake,
        container="L2",
        code="Q-1",
        taxon="Boloria dia",
        caught=told.clock.now - timedelta(hours=2),
        **caught,
    )
    told.record(
        k.FounderIntake,
        container="Q2",
        code="Q-2",
        taxon="Boloria dia",
        stage="larva",
        sex="",
        found_on="dog violet",
        **caught,
    )
    told.log("R2 host in violet leaf water", "Q2 host in violet leaf water")
    told.on(days=1)
    told.log("L2 searched 4 lens")
    told.record(k.Moved, container="L2", to="R2", number=4, stage="egg")
    told.on(days=6)
    told.record(k.Hatched, container="R2", number=4)
    told.on(days=20)
    told.record(k.Pupated, container="R2", number=4)
    told.record(k.Pupated, container="Q2", number=1)
    told.on(days=9)
    told.record(k.Emerged, container="R2", number=4, sex="male")
    told.record(k.Emerged, container="Q2", number=1, sex="female")
    told.on(days=1)
    told.record(k.Preserved, container="R2", number=2, voucher="KM-0412", sex="male")
    told.record(k.Preserved, container="Q2", number=1)
    told.record(k.Preserved, container="L2", number=1)


def test_pin_labels_say_what_a_drawer_needs(told: Told, export: Callable[..., Path]) -> None:
    vouchers(told)
    found = page(export("pins", "pins.html"))

    assert sum(1 for tag, attrs in found.elements if attrs.get("class") == "pin") == 4
    told_lines = "\n".join(found.text)
    ovo = told_lines.split("Quendon heath, ride 3")[1]
    for words in (
        "51.9471 N 0.2049 W\n±50 m",
        "caught 20 v 2026",
        "leg. K. Moor",
        "ex ovo",
        "em. 25 vi 2026",
        "fed violet in captivity",
        "Q-1/A male KM-0412",
        "Boloria dia",
    ):
        assert words in ovo, words
    larva = told_lines.split("Quendon heath, ride 3")[3]
    assert "ex larva" in larva
    assert "larva found on dog\nviolet" in larva
    assert "fed violet in captivity" in larva
    assert "caught on or before 20 v 2026" in " ".join(larva.split())
    adult = told_lines.split("Quendon heath, ride 3")[4]
    assert not any(words in adult for words in ("ex ", "em. ", "larva", "fed "))


def test_pin_labels_of_protected_taxa_have_the_grid(
    told: Told, export: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    told.record(k.Taxon, name="Boloria dia", protected=True)
    vouchers(told)

    text = export("pins", "pins.html").read_text()
    assert "Quendon" not in text
    assert "51.95 N 0.25 W" in text
    assert "places generalised on 4 of them: protected taxa" in capsys.readouterr().out
    assert "Quendon" in export("pins", "exact.html", "--exact-localities", "--yes").read_text()


def test_sizes_on_paper_are_in_millimetres(told: Told, export: Callable[..., Path]) -> None:
    vouchers(told)

    drawn = export("pins", "pins.html").read_text()
    assert "width: 20mm;" in drawn
    assert re.search(r'style="height: 1[1-9]mm"', drawn)
    labels = export("labels", "labels.html", "--size", "70x30").read_text()
    assert "width: 70mm; height: 30mm" in labels
    assert "width: 28mm; height: 28mm" in labels  # the square


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_shown_and_never_obeyed(
    told: Told, export: Callable[..., Path], text: str
) -> None:
    told.record(k.Taxon, name=text, short=text[:16])
    told.log("L2 set up laying")
    told.record(k.FounderIntake, container="L2", code="Q-1", taxon=text, place=text, collector=text)
    told.record(k.Preserved, container="L2", number=1, voucher=text)
    told.record(k.FounderIntake, container="L2", code="Q-2", taxon=text)

    for found in (page(export("labels", "labels.html")), page(export("pins", "pins.html"))):
        tags = {tag for tag, _ in found.elements}
        assert tags <= {
            "html",
            "head",
            "meta",
            "title",
            "style",
            "body",
            "main",
            "div",
            "span",
            "br",
            "svg",
            "path",
        }
        names = {name for _, attrs in found.elements for name in attrs}
        assert not {name for name in names if name.startswith("on") or name in ("src", "href")}
        policies = [
            attrs["content"]
            for tag, attrs in found.elements
            if attrs.get("http-equiv") == "Content-Security-Policy"
        ]
        assert policies == ["default-src 'none'; style-src 'unsafe-inline'; img-src data:"]
        assert all(one.replace("\n", "").isprintable() for one in found.text)


@needs_browser
def test_what_a_browser_draws_is_read_again(
    told: Told, export: Callable[..., Path], tmp_path: Path
) -> None:
    told.log("L2 set up laying", "L2 founder Q-1, Boloria dia female", "R7 set up rearing")
    path, picture = export("labels", "labels.html"), tmp_path / "labels.png"

    run(
        path,
        tmp_path,
        "--force-device-scale-factor=2",
        "--window-size=800,300",
        f"--screenshot={picture}",
    )

    with Image.open(picture) as drawn_page:
        assert sorted(one.text for one in zxingcpp.read_barcodes(drawn_page.convert("L"))) == [
            "L2",
            "R7",
        ]
    assert asked_for(path, tmp_path) == set()
