"""Coordinates as open standards write them, against what these say they mean."""

from __future__ import annotations

import pytest

from rounds.surroundings.coordinates import angle_of, coordinates_in

SOURCES = [
    # Darwin Core, term dwc:verbatimCoordinates, first example; worked: 41 + 5/60 + 54/3600
    ("41 05 54S 121 05 34W", -(41 + 5 / 60 + 54 / 3600), -(121 + 5 / 60 + 34 / 3600)),
    # RFC 5870, section 1: a point in Vienna, its third number the altitude
    ("geo:48.2010,16.3695,183", 48.2010, 16.3695),
    # ISO 6709:2008, annex D: signs without spaces, the letter behind the digits; numbers from
    # memory
    ("50\u00b040\u203246\u2033N 095\u00b048\u203226\u2033W", 50.679444, -95.807222),
]


@pytest.mark.parametrize(("text", "latitude", "longitude"), SOURCES)
def test_coordinates_as_standards_write_them(text: str, latitude: float, longitude: float) -> None:
    found = coordinates_in(f"at the weir {text} on 12 May")
    assert found is not None
    assert (found.latitude, found.longitude) == pytest.approx((latitude, longitude), abs=1e-6)


@pytest.mark.parametrize(
    "text",
    [
        "46.5531 6.0712",
        "46.5531, 6.0712",
        "46.5531,6.0712",
        "46,5531 6,0712",
        "(46.5531 / 6.0712)",
        "lat 46.5531 lon 6.0712",
        "longitude: 6.0712 latitude: 46.5531",
        "lat=46.5531 lon=6.0712",
        "46.5531N 6.0712E",
        "N 46.5531\u00b0, E 6.0712\u00b0",
        "6.0712 E 46.5531 N",
        "46\u00b033.186'N 6\u00b04.272'E",
        "46\u00b0 33' 11.16\" N, 6\u00b0 4' 16.32\" E",
        "46 33 11.16 N 6 4 16.32 E",
    ],
)
@pytest.mark.parametrize("around", ["", " \u00b140 m"])
def test_a_point_in_each_notation(text: str, around: str) -> None:
    found = coordinates_in(f"Fonds 3.5 {text}{around} 12 Jul 14:20")
    assert found is not None
    assert (found.latitude, found.longitude) == pytest.approx((46.5531, 6.0712), abs=1e-6)
    assert found.uncertainty_m == (40 if around else None)


@pytest.mark.parametrize(
    "text", ["Zone 3.5", "plot 3.5 4.2", "on 20.5.2026 14.20", "SU 123 456", "12 N slope 3"]
)
def test_other_numbers_are_no_coordinates(text: str) -> None:
    assert coordinates_in(text) is None


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Fonds 46.5531", "give both"),
        ("96.5531 6.0712", "latitude is 96.5531; it must be from -90 to 90 degrees"),
        ("46.5531 186.0712", "longitude is 186.071; it must be from -180 to 180 degrees"),
    ],
)
def test_half_of_them_or_beyond_the_range_is_asked(text: str, told: str) -> None:
    with pytest.raises(ValueError, match=told):
        coordinates_in(text)


@pytest.mark.parametrize(("text", "latitude", "longitude"), SOURCES[::2])
def test_each_half_by_itself(text: str, latitude: float, longitude: float) -> None:
    north, east = text.replace("S ", "S|").replace("N ", "N|").split("|")
    assert (angle_of(north, "NS"), angle_of(east, "EW")) == pytest.approx(
        (latitude, longitude), abs=1e-6
    )
    assert angle_of(north, "EW") is None
