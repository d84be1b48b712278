"""The Darwin Core Archive, read back by an independent reader and held against the standard's own lists."""

from __future__ import annotations

import unicodedata
import zipfile
from collections.abc import Callable
from datetime import date, datetime, timedelta
from math import cos, hypot, radians
from pathlib import Path
from typing import get_args
from xml.etree import ElementTree as ET

import pytest
from dwca.read import DwCAReader
from hypothesis import given
from hypothesis import strategies as st

from rounds.bench.state import Bench
from rounds.entries import registry as k
from rounds.entries.plan import Establishment
from rounds.exchange.archive import terms as t
from rounds.exchange.archive.archive import cell
from rounds.exchange.archive.metadata import eml_xml
from rounds.exchange.archive.occurrences import interval
from rounds.exchange.localities import PlaceGuard, on_grid
from tests.conftest import MORNING
from tests.exchange.conftest import HOSTILE, Told

HERE = Path(__file__).parent / "terms"
DWC = "http://rs.tdwg.org/dwc/terms/"


def listed() -> set[str]:
    """The standard's own terms."""
    return {
        line
        for line in (HERE / "darwin_core.txt").read_text().splitlines()
        if not line.startswith("#")
    }


def vocabularies() -> dict[str, set[str]]:
    """The values that the standard allows, by term."""
    lines = [
        line.split()
        for line in (HERE / "vocabularies.txt").read_text().splitlines()
        if not line.startswith("#")
    ]
    return {line[0]: set(line[1:]) for line in lines}


def read(path: Path) -> list[dict[str, str]]:
    """The occurrences with their measurements under 'facts', as the independent reader gives them."""
    with DwCAReader(str(path)) as archive:
        assert archive.descriptor is not None
        assert archive.descriptor.core.type == DWC + "Occurrence"
        found = []
        for row in archive:
            values = {name.removeprefix(DWC): value for name, value in row.data.items()}
            values["facts"] = [
                {name.removeprefix(DWC): value for name, value in fact.data.items()}
                for fact in row.extensions
            ]  # type: ignore[assignment]
            found.append(values)
        return found


def story(told: Told) -> None:
    """A brood from two wild females on one plant, reared on another, to a voucher; one larva from the wild."""
    told.record(k.Taxon, name="Boloria dia", family="Nymphalidae", establishment="native")
    told.log("L2 set up laying", "R2 set up rearing", "P2 set up pupation")
    for code in ("QUE-26-01", "QUE-26-02"):
        told.record(
            k.FounderIntake, container="L2", code=code, taxon="Boloria dia", place="Quendon heath, ride 3", latitude=51.9471,
            longitude=0.2049, uncertainty_m=50, caught=told.clock.now - timedelta(hours=3), collector="KM", wear="worn",
        )  # fmt: skip
    told.record(
        k.FounderIntake, container="R2", code="QUE-26-03", taxon="Boloria dia", stage="larva", sex="",
        place="Quendon heath, ride 3", found_on="dog violet",
    )  # fmt: skip
    told.log("L2 host in bramble leaf water", "R2 host in violet leaf water")
    told.on(days=2)
    told.log("L2 searched 0 lens")
    told.on(days=1)
    told.log("L2 searched 7 lens where=host 12min", "L2 died 1 cause=unknown brood=QUE-26-01")
    told.record(k.Moved, container="L2", to="R2", number=7, stage="egg")
    told.on(days=5)
    told.log("R2 looked")
    told.on(hours=11)
    told.record(k.Hatched, container="R2", number=6, brood="QUE-26-01+/A", evidence="inferred")
    told.on(days=4)
    told.record(k.Moulted, container="R2", number=5, instar=2, brood="QUE-26-01+/A")
    told.on(days=16)
    told.record(k.Pupated, container="R2", number=5, brood="QUE-26-01+/A")
    told.record(k.Moved, container="R2", to="P2", number=5, stage="pupa")
    told.on(days=9)
    told.record(k.Emerged, container="P2", number=3, sex="female", brood="QUE-26-01+/A", crippled=1)
    told.record(
        k.Preserved, container="P2", number=1, voucher="KM-0412", depository="County Museum", stage="adult",
        brood="QUE-26-01+/A", wings="crippled",
    )  # fmt: skip
    told.record(
        k.Released,
        container="P2",
        number=2,
        place="Quendon heath, ride 3",
        stage="adult",
        brood="QUE-26-01+/A",
    )


def test_every_term_and_value_is_one_of_the_standards(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)
    rows = read(export("dwca", "record.zip"))

    assert set(t.OCCURRENCE_TERMS) | set(t.MEASUREMENT_TERMS) <= listed()
    for term, allowed in vocabularies().items():
        assert {row[term] for row in rows} - {""} <= allowed, term
    assert set(get_args(Establishment)) - {""} == vocabularies()["establishmentMeans"]
    assert len({row["occurrenceID"] for row in rows}) == len(rows)
    facts = [fact for row in rows for fact in row["facts"]]
    assert len({fact["measurementID"] for fact in facts}) == len(facts)


def test_wild_founders_are_wild_and_all_that_was_reared_is_captive(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)
    rows = read(export("dwca", "record.zip"))

    wild = [row for row in rows if row["degreeOfEstablishment"] == "native"]
    assert {row["organismName"] for row in wild} == {"QUE-26-01", "QUE-26-02", "QUE-26-03"}
    assert {row["basisOfRecord"] for row in wild} == {"HumanObservation"}
    assert {row["establishmentMeans"] for row in wild} == {"native"}
    assert wild[0]["decimalLatitude"] == "51.9471"
    assert wild[0]["coordinateUncertaintyInMeters"] == "50"
    reared = [row for row in rows if row not in wild]
    assert {row["degreeOfEstablishment"] for row in reared} == {"captive", "released"}
    assert {row["decimalLatitude"] for row in reared} == {""}
    assert {row["establishmentMeans"] for row in reared} == {""}
    (voucher,) = [row for row in rows if row["basisOfRecord"] == "PreservedSpecimen"]
    assert (voucher["catalogNumber"], voucher["institutionCode"]) == ("KM-0412", "County Museum")
    assert (voucher["degreeOfEstablishment"], voucher["vitality"]) == ("captive", "dead")
    (free,) = [row for row in rows if row["degreeOfEstablishment"] == "released"]
    assert (free["locality"], free["individualCount"]) == ("Quendon heath, ride 3", "2")


def test_stage_sex_count_and_parents(told: Told, export: Callable[..., Path]) -> None:
    story(told)
    rows = read(export("dwca", "record.zip"))

    counted = [(row["lifeStage"], row["sex"], row["individualCount"]) for row in rows]
    assert counted == [
        ("adult", "female", "1"),
        ("adult", "female", "1"),
        ("larva", "", "1"),
        ("egg", "", "7"),
        ("larva", "", "6"),
        ("larva", "", "5"),
        ("pupa", "", "5"),
        ("adult", "female", "3"),
        ("adult", "female", "1"),
        ("adult", "female", "2"),
    ]
    mothers = {row["organismID"] for row in rows[:2]}
    assert all(
        f'"offspring of one of several":"{mother}"' in rows[3]["associatedOrganisms"]
        for mother in mothers
    )
    assert (rows[3]["vitality"], rows[4]["vitality"]) == ("notAssessed", "alive")


def test_an_interval_is_told_as_one_and_a_moment_as_one(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)
    eggs, hatched, moulted = read(export("dwca", "record.zip"))[3:6]

    # ISO 8601: an interval of two instants with a solidus between them.
    start, end = (datetime.fromisoformat(part) for part in eggs["eventDate"].split("/"))
    assert end - start == timedelta(days=1)
    start, end = (datetime.fromisoformat(part) for part in hatched["eventDate"].split("/"))
    assert end - start == timedelta(hours=11)
    assert "/" not in moulted["eventDate"]


def test_an_interval_over_a_clock_change_keeps_both_offsets() -> None:
    before = datetime.fromisoformat("2026-10-25T00:30+02:00")
    after = datetime.fromisoformat("2026-10-25T07:30+01:00")

    assert interval(before, after) == "2026-10-25T00:30+02:00/2026-10-25T07:30+01:00"


def test_a_catch_whose_date_was_not_said_has_none(told: Told, export: Callable[..., Path]) -> None:
    story(told)
    larva = read(export("dwca", "record.zip"))[2]

    assert larva["eventDate"] == ""
    assert larva["verbatimEventDate"] == "not said; on or before 2026-05-20"


def test_evidence_of_hosts_is_graded_and_a_plant_of_the_bench_never_passes_for_one_of_the_wild(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)
    rows = read(export("dwca", "record.zip"))
    taxa = [row["associatedTaxa"] for row in rows]

    assert taxa[2] == '"larva found on, in the wild":"dog violet"'
    assert taxa[3] == '"laid on, in captivity":"bramble"'
    assert taxa[5] == '"fed on, in captivity":"violet"'
    assert taxa[6] == '"fed on and pupated, in captivity":"violet"'
    assert taxa[7] == '"adult reared on, in captivity":"violet"'
    assert all("wild" not in one for one in taxa[3:])
    hosts = {
        fact["measurementType"]: fact
        for row in rows
        for fact in row["facts"]
        if "host plant" in fact["measurementType"]
    }
    assert (
        hosts["host plant: laid on, in captivity"]["measurementMethod"]
        == "in captivity; the keeper chose the plant"
    )


def test_effort_is_told_in_female_days(told: Told, export: Callable[..., Path]) -> None:
    story(told)
    rows = read(export("dwca", "record.zip"))

    effort = {
        row["organismName"]: (fact["measurementValue"], fact["measurementUnit"])
        for row in rows
        for fact in row["facts"]
        if fact["measurementType"].startswith("laying effort")
    }
    assert effort["QUE-26-01"] == ("3", "female-day")  # three days, then dead
    assert effort["QUE-26-02"] == (
        "3",
        "female-day",
    )  # to the last search, though she stood with it on


def test_places_of_protected_taxa_are_generalised(told: Told, export: Callable[..., Path]) -> None:
    told.record(k.Taxon, name="Boloria dia", protected=True, grid_degrees=0.1)
    told.log("L2 set up laying")
    told.record(k.FounderIntake, container="L2", code="Q-1", taxon="Boloria dia", place="Quendon heath, ride 3",
             latitude=51.9471, longitude=-0.2049, uncertainty_m=50)  # fmt: skip
    told.log("L2 searched 9 lens")
    told.record(k.Released, container="L2", number=9, place="the old quarry", stage="egg")
    path = export("dwca", "record.zip")
    founder, eggs, free = read(path)

    assert (founder["decimalLatitude"], founder["decimalLongitude"]) == ("51.95", "-0.25")
    assert founder["coordinatePrecision"] == "0.1"
    # Half the diagonal of the cell, 11.132 km by 6.87 km there (a degree is 111.32 km times the cosine), and her own 50 m.
    assert float(founder["coordinateUncertaintyInMeters"]) == pytest.approx(6542 + 50, abs=10)
    assert founder["informationWithheld"] == "exact place withheld: protected taxon; ask the keeper"
    assert founder["dataGeneralizations"].startswith(
        "coordinates are the centre of a grid cell of 0.1 degrees"
    )
    assert eggs["informationWithheld"]
    assert free["informationWithheld"]
    with zipfile.ZipFile(path) as archive:
        for name in archive.namelist():
            text = archive.read(name).decode()
            assert all(
                secret not in text for secret in ("Quendon", "quarry", "51.947", "0.2049")
            ), name


def test_exact_places_only_where_that_was_asked_and_answered(
    told: Told, export: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    told.record(k.Taxon, name="Boloria dia", protected=True)
    told.log("L2 set up laying")
    told.record(
        k.FounderIntake,
        container="L2",
        code="Q-1",
        taxon="Boloria dia",
        place="ride 3",
        latitude=51.9471,
        longitude=0.2,
    )

    export("dwca", "record.zip", "--exact-localities", status=1)
    assert "add --yes if that is meant" in capsys.readouterr().err
    (founder,) = read(export("dwca", "record.zip", "--exact-localities", "--yes"))
    assert (founder["decimalLatitude"], founder["locality"], founder["informationWithheld"]) == (
        "51.9471",
        "ride 3",
        "",
    )


@pytest.mark.parametrize(
    "name", ["boloria  dia", "Boloria dia calaisi", "Boloria sp.", "Boloria", ""]
)
def test_names_that_may_mean_a_protected_species_are_guarded_too(
    told: Told, export: Callable[..., Path], name: str
) -> None:
    told.record(k.Taxon, name="Boloria dia", protected=True)
    told.log("L2 set up laying")
    told.record(
        k.FounderIntake,
        container="L2",
        code="Q-1",
        taxon=name,
        place="ride 3",
        latitude=51.9471,
        longitude=0.2,
    )

    (founder,) = read(export("dwca", "record.zip"))

    assert founder["informationWithheld"]
    assert founder["decimalLatitude"] == "51.95"


def test_other_taxa_keep_their_places(told: Told, export: Callable[..., Path]) -> None:
    told.record(k.Taxon, name="Boloria dia", protected=True)
    told.record(k.Taxon, name="Pieris napi")
    told.log("L2 set up laying")
    told.record(
        k.FounderIntake,
        container="L2",
        code="Q-1",
        taxon="Pieris napi",
        place="ride 3",
        latitude=51.9471,
        longitude=0.2,
    )

    (founder,) = read(export("dwca", "record.zip"))

    assert (founder["decimalLatitude"], founder["locality"]) == ("51.9471", "ride 3")


def test_what_was_struck_is_not_in_it_and_the_same_book_gives_the_same_bytes(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)
    wrong = told.log("L2 searched 40 lens")
    told.desk.strike(wrong.id, "wrong cup")
    first = export("dwca", "a.zip").read_bytes()

    assert "40" not in {row["individualCount"] for row in read(export("dwca", "b.zip"))}
    assert first == export("dwca", "c.zip").read_bytes()


def test_permits_stand_beside_the_founder_without_what_is_used(
    told: Told, export: Callable[..., Path]
) -> None:
    told.record(k.Permit, number="WP-118", body="county office", females=1, hold_hours=48)
    told.log("L2 set up laying")
    told.record(k.FounderIntake, container="L2", code="Q-1", taxon="Pieris napi", permit="WP-118")
    told.record(k.FounderIntake, container="L2", code="Q-2", taxon="Pieris napi", permit="WP-118")

    facts = [fact for row in read(export("dwca", "record.zip")) for fact in row["facts"]]

    (remarks,) = {
        fact["measurementRemarks"]
        for fact in facts
        if fact["measurementType"] == "collecting permit"
    }
    assert remarks == "issued by county office"


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_breaks_no_line_and_no_xml(
    told: Told, export: Callable[..., Path], text: str
) -> None:
    told.record(k.Setting, name="bench", value=text)
    told.record(k.Setting, name="licence", value=text)
    told.log("L2 set up laying")
    told.record(k.FounderIntake, container="L2", code="Q-1", taxon=text, place=text, collector=text)

    path = export("dwca", "record.zip")

    (founder,) = read(path)
    for value in (founder["scientificName"], founder["locality"], founder["recordedBy"]):
        assert value
        assert value.isprintable()
    with zipfile.ZipFile(path) as archive:
        root = ET.fromstring(archive.read("eml.xml"))
        assert b"<!ENTITY" not in archive.read("eml.xml")
    assert root.find("dataset/title") is not None


# What the published schema of the GBIF metadata profile 1.3 for EML 2.2.0 (eml.xsd, eml-gbif-profile.xsd) asks of a document,
# and in which order; what is not marked may be left out.
EML_ATTRIBUTES = {"packageId", "scope", "system"}
EML_ORDER = (
    "alternateIdentifier", "shortName", "title", "creator", "metadataProvider", "associatedParty", "pubDate", "language",
    "abstract", "keywordSet", "additionalInfo", "intellectualRights", "licensed", "distribution", "coverage", "purpose",
    "introduction", "gettingStarted", "acknowledgements", "maintenance", "contact", "publisher", "methods", "project",
    "literatureCited",
)  # fmt: skip
EML_REQUIRED = {"title", "creator", "pubDate", "abstract", "contact"}
# What the schema of the Darwin Core text guide (tdwg_dwc_text.xsd) lets stand in meta.xml, in this order.
TEXT = "{http://rs.tdwg.org/dwc/text/}"
TEXT_ATTRIBUTES = {
    "linesTerminatedBy", "fieldsTerminatedBy", "fieldsEnclosedBy", "ignoreHeaderLines", "rowType", "encoding", "dateFormat",
}  # fmt: skip


def test_both_descriptions_keep_the_rules_of_their_schemas(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)
    with zipfile.ZipFile(export("dwca", "record.zip")) as archive:
        eml, meta = ET.fromstring(archive.read("eml.xml")), ET.fromstring(archive.read("meta.xml"))

    assert eml.tag == "{https://eml.ecoinformatics.org/eml-2.2.0}eml"
    assert set(eml.attrib) >= EML_ATTRIBUTES
    assert eml.get("scope") == "system"
    (dataset,) = eml
    tags = [element.tag for element in dataset]
    assert set(tags) >= EML_REQUIRED
    assert [EML_ORDER.index(tag) for tag in tags] == sorted(EML_ORDER.index(tag) for tag in tags)
    assert all((element.text or "").strip() or len(element) for element in eml.iter())
    assert meta.tag == f"{TEXT}archive"
    assert [table.tag for table in meta] == [f"{TEXT}core", f"{TEXT}extension"]
    for table, key in zip(meta, ("id", "coreid"), strict=True):
        assert set(table.attrib) <= TEXT_ATTRIBUTES
        assert "rowType" in table.attrib
        tags = [element.tag.removeprefix(TEXT) for element in table]
        assert tags == ["files", key, *["field"] * (len(table) - 2)]
        assert all(field.get("term") for field in table.findall(f"{TEXT}field"))


def test_the_description_has_what_a_reader_must_find(
    told: Told, export: Callable[..., Path]
) -> None:
    story(told)
    with DwCAReader(str(export("dwca", "record.zip"))) as archive:
        dataset = archive.metadata.find("dataset")

    assert dataset is not None
    # The elements that EML 2.2 asks of every data set, and those that recording networks ask (from memory).
    for name in (
        "title",
        "creator",
        "metadataProvider",
        "pubDate",
        "language",
        "abstract",
        "intellectualRights",
        "contact",
    ):
        assert dataset.find(name) is not None, name
    # In the order that the schema of EML 2.2 asks for (from memory).
    assert [element.tag for element in dataset] == [
        "title", "creator", "metadataProvider", "pubDate", "language", "abstract", "intellectualRights", "coverage", "contact",
    ]  # fmt: skip
    assert dataset.findtext("intellectualRights/para") == "not said; ask the keeper before use"


def test_the_demo_gives_an_archive(demo_desk: object, export: Callable[..., Path]) -> None:
    rows = read(export("dwca", "record.zip"))

    assert len(rows) > 40
    leaf = [row for row in rows if row["scientificName"] == "Kallima inachus"]
    assert leaf
    assert all(row["informationWithheld"] for row in leaf)


def test_a_day_typed_without_an_hour_leaves_as_a_day(
    told: Told, export: Callable[..., Path]
) -> None:
    told.log(
        "L2 set up laying",
        "L2 founder Q-1, Boloria dia female caught=2026-05-18",
        "L2 founder Q-2, Boloria dia female caught=6:40",
    )

    first, second = read(export("dwca", "record.zip"))

    assert (first["eventDate"], second["eventDate"]) == ("2026-05-18", "2026-05-20T06:40+02:00")


def test_it_says_where_a_withheld_place_can_be_known_from_another_taxon(
    told: Told, export: Callable[..., Path], capsys: pytest.CaptureFixture[str]
) -> None:
    told.record(k.Taxon, name="Boloria dia", protected=True)
    told.record(k.Taxon, name="Pieris napi")
    told.log("L2 set up laying")
    for code, taxon in (("Q-1", "Boloria dia"), ("Q-2", "Pieris napi")):
        told.record(
            k.FounderIntake,
            container="L2",
            code=code,
            taxon=taxon,
            place="Ride 3",
            latitude=51.9471,
            longitude=0.2,
        )

    export("dwca", "record.zip")

    assert "1 withheld place can be known from other taxa caught there" in capsys.readouterr().out


@given(
    latitude=st.floats(-90, 90),
    longitude=st.floats(-180, 180),
    grid=st.sampled_from([0.01, 0.1, 0.25, 0.3, 1.0, 10.0]),
)
def test_the_true_place_lies_within_the_uncertainty_and_cannot_be_told_from_its_neighbours(
    latitude: float, longitude: float, grid: float
) -> None:
    told = on_grid(latitude, longitude, None, grid)
    assert told.latitude is not None
    assert told.longitude is not None
    assert told.uncertainty_m is not None

    north_m = (latitude - told.latitude) * 111_320
    east_m = (longitude - told.longitude) * 111_320 * cos(radians(latitude))
    assert hypot(north_m, east_m) <= told.uncertainty_m + 1
    # Wherever in its cell she was, the same centre is told.
    again = on_grid(told.latitude, told.longitude, None, grid)
    assert (again.latitude, again.longitude) == (told.latitude, told.longitude)


PROTECTED = k.Taxon(
    id="a",
    at=MORNING,
    logged=MORNING,
    name="Boloria dia",
    short="vio",
    protected=True,
    grid_degrees=0.5,
)
OPEN = k.Taxon(id="b", at=MORNING, logged=MORNING, name="Pieris napi", short="nap")


@given(st.one_of(st.text(), st.text(alphabet="BPabdilnoprsv. ", max_size=14)))
def test_a_name_is_free_only_where_it_is_that_of_an_open_taxon(name: str) -> None:
    guard = PlaceGuard(Bench(taxa={PROTECTED.name: PROTECTED, OPEN.name: OPEN}))
    words = unicodedata.normalize("NFKC", name).casefold().replace(".", ". ").split()

    if not guard.guards(name):
        assert set(words) & {"pieris", "napi", "nap"}, name
    else:
        assert guard.grid_of(name) == 0.5


@given(
    st.sampled_from(["Boloria dia", "boloria dia", "B. dia", "dia", "vio", "Boloria"]),
    st.integers(0, 10),
    st.sampled_from(["drop", "double", "swap", "change"]),
)
def test_no_single_slip_frees_a_protected_name(name: str, place: int, slip: str) -> None:
    place %= len(name)
    left, sign, right = name[:place], name[place], name[place + 1 :]
    slipped = {"drop": left + right, "double": left + sign * 2 + right, "swap": left + right[:1] + sign + right[1:],
               "change": f"{left}x{right}"}[slip]  # fmt: skip

    assert PlaceGuard(Bench(taxa={PROTECTED.name: PROTECTED, OPEN.name: OPEN})).guards(slipped)


@given(st.text())
def test_no_text_breaks_a_line_or_the_xml(text: str) -> None:
    # Nothing that a reader would obey: no control, no format character, no line or paragraph end.
    assert not {unicodedata.category(sign) for sign in cell(text)} & {
        "Cc",
        "Cf",
        "Cs",
        "Co",
        "Cn",
        "Zl",
        "Zp",
    }
    bench = Bench(settings={"bench": text, "holder": text, "licence": text})

    root = ET.fromstring(eml_xml(bench, text, "urn:uuid:x", date(2026, 5, 20), None))

    assert root.findtext("dataset/intellectualRights/para") is not None
