"""The two descriptions in an archive: of its files (meta.xml) and of the data set (eml.xml)."""

from __future__ import annotations

from datetime import date
from xml.etree import ElementTree as ET

from rounds.bench.state import Bench
from rounds.exchange.archive import terms as t
from rounds.views.settings import full_name_of
from rounds.views.words import literal

EML = "https://eml.ecoinformatics.org/eml-2.2.0"
PROFILE = "https://rs.gbif.org/schema/eml-gbif-profile/1.3/eml.xsd"
XSI = "http://www.w3.org/2001/XMLSchema-instance"
NO_LICENCE = "not said; ask the keeper before use"
ABSTRACT = (
    "Wild-caught female butterflies or moths, and the broods reared from their eggs, as recorded"
    " day by day by their keeper. Founders are wild; every other record is of captive animals and"
    " has no coordinates. Host plants carry the grade of their evidence; a plant offered in"
    " captivity is no record of a host in the wild."
)


def meta_xml(occurrences: str, measurements: str, media: str = "") -> bytes:
    """The description of the files, by the Darwin Core text guide.

    Args:
        occurrences, measurements, media: their file names; no media where there are none.
    """
    ET.register_namespace("", t.TEXT_NAMESPACE)
    archive = ET.Element(f"{{{t.TEXT_NAMESPACE}}}archive", {"metadata": "eml.xml"})
    _table(archive, "core", t.OCCURRENCE_ROW, occurrences, t.OCCURRENCE_TERMS, "id", 0)
    _table(archive, "extension", t.MEASUREMENT_ROW, measurements, t.MEASUREMENT_TERMS, "coreid", 1)
    if media:
        _table(archive, "extension", t.MEDIA_ROW, media, t.MEDIA_TERMS, "coreid", 1)
    return _written(archive)


def _table(
    archive: ET.Element,
    name: str,
    row: str,
    file: str,
    terms: tuple[str, ...],
    key: str,
    first: int,
) -> None:
    form = {
        "encoding": "UTF-8",
        "fieldsTerminatedBy": "\\t",
        "linesTerminatedBy": "\\n",
        "fieldsEnclosedBy": "",
        "ignoreHeaderLines": "1",
        "rowType": row,
    }
    table = ET.SubElement(archive, f"{{{t.TEXT_NAMESPACE}}}{name}", form)
    files = ET.SubElement(table, f"{{{t.TEXT_NAMESPACE}}}files")
    ET.SubElement(files, f"{{{t.TEXT_NAMESPACE}}}location").text = file
    ET.SubElement(table, f"{{{t.TEXT_NAMESPACE}}}{key}", {"index": "0"})
    for index, term in enumerate(terms, start=first):
        ET.SubElement(
            table,
            f"{{{t.TEXT_NAMESPACE}}}field",
            {"index": str(index), "term": t.term_uri(term, row)},
        )


def eml_xml(
    bench: Bench, keeper: str, name: str, today: date, years: tuple[date, date] | None
) -> bytes:
    """The description of the data set, by the GBIF metadata profile 1.3 of the Ecological Metadata
    Language 2.2.

    Args:
        keeper: initials of who exports.
        name: a name of the data set that stays the same.
        today: the day of the export.
        years: the day of the first record, which may lie before the book, and that of the last.
    """
    settings = bench.settings
    title = settings.get("bench", "") or "a rearing bench"
    who = settings.get("holder", "") or full_name_of(settings, keeper)
    body = settings.get("organisation", "") or ("" if who else title)
    ET.register_namespace("eml", EML)
    ET.register_namespace("xsi", XSI)
    root = ET.Element(
        f"{{{EML}}}eml",
        {
            "packageId": f"{name}/{today.isoformat()}",
            "scope": "system",
            "system": "urn:x-rounds",
            f"{{{XSI}}}schemaLocation": f"{EML} {PROFILE}",
        },
    )
    dataset = ET.SubElement(root, "dataset")
    _text(dataset, "title", f"{title}: wild-caught females and their reared broods")
    _party(dataset, "creator", who, body)
    _party(dataset, "metadataProvider", who, body)
    _text(dataset, "pubDate", today.isoformat())
    _text(dataset, "language", "en")
    _paragraph(dataset, "abstract", ABSTRACT)
    _paragraph(dataset, "intellectualRights", settings.get("licence", "") or NO_LICENCE)
    if years:
        coverage = ET.SubElement(
            ET.SubElement(ET.SubElement(dataset, "coverage"), "temporalCoverage"), "rangeOfDates"
        )
        for part, day in zip(("beginDate", "endDate"), years, strict=True):
            _text(ET.SubElement(coverage, part), "calendarDate", day.isoformat())
    _party(dataset, "contact", who, body)
    return _written(root)


def _text(parent: ET.Element, name: str, text: str) -> None:
    ET.SubElement(parent, name).text = literal(text)


def _paragraph(parent: ET.Element, name: str, text: str) -> None:
    _text(ET.SubElement(parent, name), "para", text)


def _party(parent: ET.Element, role: str, who: str, organisation: str) -> None:
    """A person, an organisation, or a person of one; the surname is what stands before a comma,
    else the last word of a name."""
    party = ET.SubElement(parent, role)
    surname, comma, given = (part.strip() for part in who.partition(","))
    if not comma:
        given, _, surname = " ".join(who.split()).rpartition(" ")
    if surname:
        name = ET.SubElement(party, "individualName")
        if given:
            _text(name, "givenName", given)
        _text(name, "surName", surname)
    if organisation:
        _text(party, "organizationName", organisation)


def _written(root: ET.Element) -> bytes:
    ET.indent(root)
    written: bytes = ET.tostring(root, encoding="UTF-8", xml_declaration=True)
    return written + b"\n"
