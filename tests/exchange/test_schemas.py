"""What leaves as XML against the schemas that were published for it, where they lie beside this project.

They are other people's text and are not copied here: the Darwin Core text guide's (TDWG) and that of the GBIF metadata profile
1.3 of EML 2.2.0. ``test_archive.py`` holds a list of the same rules.
"""

from __future__ import annotations

import os
import zipfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest

from tests.exchange.conftest import HOSTILE, Told
from tests.exchange.test_archive import story

SCHEMAS = Path(
    os.environ.get("ROUNDS_SCHEMAS", Path(__file__).parents[3] / "shared" / "reference" / "schemas")
)
needs_schemas = pytest.mark.skipif(
    not (SCHEMAS / "eml.xsd").is_file(),
    reason=f"no published schemas in {SCHEMAS}; ROUNDS_SCHEMAS names another folder",
)


@cache
def rules(schema: str) -> Any:
    """A published schema, read once; nothing is fetched for it."""
    xmlschema = pytest.importorskip(
        "xmlschema", reason="xmlschema is not installed; it comes with '.[test]'"
    )
    return xmlschema.XMLSchema(str(SCHEMAS / schema), allow="local")


def wrong(archive: Path) -> list[str]:
    """What the published schemas object to, in both descriptions of an archive."""
    found = []
    with zipfile.ZipFile(archive) as files:
        for name, schema in (("meta.xml", "tdwg_dwc_text.xsd"), ("eml.xml", "eml.xsd")):
            errors = rules(schema).iter_errors(
                ET.fromstring(files.read(name)), use_location_hints=False
            )
            found += [f"{name}: {error.path}: {error.reason}" for error in errors]
    return found


@needs_schemas
def test_the_descriptions_are_valid(told: Told, export: Callable[..., Path]) -> None:
    story(told)
    assert wrong(export("dwca", "record.zip")) == []


@needs_schemas
def test_those_of_a_book_with_next_to_nothing_in_it_are_too(
    told: Told, export: Callable[..., Path]
) -> None:
    told.log("L2 set up laying")
    assert wrong(export("dwca", "record.zip")) == []


@needs_schemas
@pytest.mark.parametrize("text", [*HOSTILE, " ", "\u3164"])
def test_hostile_and_empty_names_leave_them_valid(
    told: Told, export: Callable[..., Path], text: str
) -> None:
    from rounds.entries import registry as k

    for name in ("bench", "holder", "licence"):
        told.record(k.Setting, name=name, value=text)
    told.log("L2 set up laying")
    assert wrong(export("dwca", "record.zip")) == []


@needs_schemas
def test_the_demos_are_valid(demo_desk: object, export: Callable[..., Path]) -> None:
    assert wrong(export("dwca", "record.zip")) == []
