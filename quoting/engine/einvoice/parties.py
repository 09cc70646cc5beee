"""The seller and the buyer of an invoice, as UBL writes them."""

from xml.etree.ElementTree import Element

from quoting.engine.einvoice.claim import has_vat_number
from quoting.engine.einvoice.values import Party
from quoting.engine.einvoice.xml import clean, part, text


def write_seller(root: Element, party: Party, *, with_vat: bool) -> None:
    """Who bills. with_vat: whether a VAT number may stand as such; not where nothing is taxed (BR-O-02)."""
    is_vat = with_vat and has_vat_number(party)
    identity = "" if is_vat else party.tax_number.strip() or party.email
    element = _start(root, "AccountingSupplierParty", party, identity)
    if party.tax_number.strip():
        _registration(element, party.tax_number, "VAT" if is_vat else "TAX")
    _end(element, party)


def write_buyer(root: Element, party: Party, *, with_vat: bool) -> None:
    """Who is billed. A number that is no VAT number identifies the buyer, no more."""
    is_vat = with_vat and has_vat_number(party)
    element = _start(root, "AccountingCustomerParty", party, "" if is_vat else party.tax_number)
    if is_vat:
        _registration(element, party.tax_number, "VAT")
    _end(element, party)


def _start(root: Element, role: str, party: Party, identity: str) -> Element:
    element = part(part(root, role), "Party")
    if clean(identity):
        text(part(element, "PartyIdentification"), "ID", identity)
    address = part(element, "PostalAddress")
    street, more, rest = _three([line for line in map(clean, party.address) if line])
    text(address, "StreetName", street)
    text(address, "AdditionalStreetName", more)
    if rest:
        text(part(address, "AddressLine"), "Line", rest)
    if party.country:
        text(part(address, "Country"), "IdentificationCode", party.country)
    return element


def _three(lines: list[str]) -> tuple[str, str, str]:
    """An address has room for three lines; what is more stands in the third."""
    street, more, *rest = *lines, *[""] * max(0, 2 - len(lines))
    return street, more, ", ".join(rest)


def _registration(element: Element, number: str, scheme: str) -> None:
    registered = part(element, "PartyTaxScheme")
    text(registered, "CompanyID", number.strip().upper() if scheme == "VAT" else number)
    text(part(registered, "TaxScheme"), "ID", scheme)


def _end(element: Element, party: Party) -> None:
    text(part(element, "PartyLegalEntity"), "RegistrationName", party.name)
    if clean(party.email):
        text(part(element, "Contact"), "ElectronicMail", party.email)
