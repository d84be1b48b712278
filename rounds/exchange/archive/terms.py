"""The Darwin Core terms that the archive uses, in the order of its columns, and the values that it
gives them.

Source: Darwin Core Maintenance Group, List of Darwin Core terms, TDWG,
http://rs.tdwg.org/dwc/doc/list/;
 Degree of Establishment vocabulary, http://rs.tdwg.org/dwcdoe/; Darwin Core text guide,
http://rs.tdwg.org/dwc/text/.
"""

from __future__ import annotations

from typing import Final

from rounds.entries.slots import listed

NAMESPACE: Final = "http://rs.tdwg.org/dwc/terms/"
DUBLIN_CORE: Final = "http://purl.org/dc/terms/"
_OF_DUBLIN_CORE: Final = frozenset({"license", "rightsHolder"})
TEXT_NAMESPACE: Final = "http://rs.tdwg.org/dwc/text/"
OCCURRENCE_ROW: Final = NAMESPACE + "Occurrence"
MEASUREMENT_ROW: Final = NAMESPACE + "MeasurementOrFact"
MEDIA_ROW: Final = "http://rs.gbif.org/terms/1.0/Multimedia"

OCCURRENCE_TERMS: Final = listed(
    "occurrenceID basisOfRecord license rightsHolder ownerInstitutionCode datasetName "
    "informationWithheld dataGeneralizations catalogNumber institutionCode disposition "
    "recordedBy individualCount sex lifeStage vitality occurrenceStatus establishmentMeans "
    "degreeOfEstablishment associatedTaxa associatedOrganisms organismID organismName "
    "occurrenceRemarks eventID eventDate verbatimEventDate samplingEffort eventRemarks "
    "country stateProvince locality locationRemarks decimalLatitude decimalLongitude "
    "geodeticDatum coordinateUncertaintyInMeters coordinatePrecision verbatimIdentification "
    "identificationQualifier scientificName taxonRank kingdom phylum class order family "
    "identifiedBy identificationRemarks"
)
# GBIF extension Simple Multimedia, http://rs.gbif.org/extension/gbif/1.0/multimedia.xml (from
# memory): all its terms are Dublin Core.
MEDIA_TERMS: Final = listed("type format identifier title created creator license rightsHolder")
MEASUREMENT_TERMS: Final = listed(
    "measurementID measurementType measurementValue measurementUnit measurementDeterminedBy "
    "measurementDeterminedDate measurementMethod measurementRemarks"
)

HUMAN_OBSERVATION: Final = "HumanObservation"
LIVING: Final = "LivingSpecimen"
PRESERVED: Final = "PreservedSpecimen"
CAPTIVE: Final = "captive"
RELEASED: Final = "released"
NOT_WILD: Final = frozenset({CAPTIVE, RELEASED})
NATIVE: Final = "native"
NATIVE_MEANS: Final = frozenset({"native", "nativeEndemic"})
PRESENT: Final = "present"
DATUM: Final = "EPSG:4326"
ORDER: Final = {
    "kingdom": "Animalia",
    "phylum": "Arthropoda",
    "class": "Insecta",
    "order": "Lepidoptera",
}


def term_uri(term: str, row: str) -> str:
    """The whole name of a term in a table of these rows."""
    dublin_core = row == MEDIA_ROW or term in _OF_DUBLIN_CORE
    return (DUBLIN_CORE if dublin_core else NAMESPACE) + term
