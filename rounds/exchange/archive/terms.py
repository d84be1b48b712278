"""The Darwin Core terms that the archive uses, in the order of its columns, and the values that it
gives them.

Source: Darwin Core Maintenance Group, List of Darwin Core terms, TDWG,
http://rs.tdwg.org/dwc/doc/list/;
 Degree of Establishment vocabulary, http://rs.tdwg.org/dwcdoe/; Darwin Core text guide,
http://rs.tdwg.org/dwc/text/.
"""

from __future__ import annotations

from typing import Final

NAMESPACE: Final = "http://rs.tdwg.org/dwc/terms/"
TEXT_NAMESPACE: Final = "http://rs.tdwg.org/dwc/text/"
OCCURRENCE_ROW: Final = NAMESPACE + "Occurrence"
MEASUREMENT_ROW: Final = NAMESPACE + "MeasurementOrFact"

OCCURRENCE_TERMS: Final = (
    "occurrenceID",
    "basisOfRecord",
    "datasetName",
    "informationWithheld",
    "dataGeneralizations",
    "catalogNumber",
    "institutionCode",
    "disposition",
    "recordedBy",
    "individualCount",
    "sex",
    "lifeStage",
    "vitality",
    "occurrenceStatus",
    "establishmentMeans",
    "degreeOfEstablishment",
    "associatedTaxa",
    "associatedOrganisms",
    "organismID",
    "organismName",
    "occurrenceRemarks",
    "eventID",
    "eventDate",
    "verbatimEventDate",
    "samplingEffort",
    "eventRemarks",
    "locality",
    "locationRemarks",
    "decimalLatitude",
    "decimalLongitude",
    "geodeticDatum",
    "coordinateUncertaintyInMeters",
    "coordinatePrecision",
    "verbatimIdentification",
    "identificationQualifier",
    "scientificName",
    "kingdom",
    "phylum",
    "class",
    "order",
    "family",
    "identificationRemarks",
)
MEASUREMENT_TERMS: Final = (
    "measurementID",
    "measurementType",
    "measurementValue",
    "measurementUnit",
    "measurementDeterminedBy",
    "measurementDeterminedDate",
    "measurementMethod",
    "measurementRemarks",
)

HUMAN_OBSERVATION: Final = "HumanObservation"
LIVING: Final = "LivingSpecimen"
PRESERVED: Final = "PreservedSpecimen"
CAPTIVE: Final = "captive"
RELEASED: Final = "released"
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
