"""What an electronic invoice says: its lines, its sums, its parties, and when it claims the European norm."""

from datetime import date
from decimal import Decimal

import pytest
from lxml import etree

from quoting.engine.billing.amounts import TaxRate
from quoting.engine.einvoice import (
    BadEInvoice,
    ELine,
    Party,
    claims_en16931,
    einvoice_lines,
    write_credit_note,
    write_invoice,
)
from quoting.engine.pricing.values import Category
from tests.quoting.einvoice_makers import (
    CITY,
    CLIENT,
    FIRM,
    NO_TAX,
    ONE_TAX,
    STACKED,
    STATE,
    TWO_TAXES_APART,
    WITH_LESS,
    amounts,
    einvoice,
)

NORM = "urn:cen.eu:en16931:2017"


def texts(xml: bytes, path: str) -> list[str]:
    """The texts at the end of a path of element names, without their prefixes."""
    steps = "".join(f"//*[local-name()='{step}']" for step in path.split("/"))
    return [element.text for element in etree.fromstring(xml).xpath(steps)]


def test_there_is_a_line_for_each_set_of_taxes_that_says_what_it_holds():
    lines = einvoice_lines(TWO_TAXES_APART, "Hall bath")

    assert lines == (
        ELine("Hall bath: materials", (STATE,), Decimal("1500.00")),
        ELine("Hall bath: subcontracted work", (CITY,), Decimal("400.00")),
        ELine("Hall bath: labour, permits", (), Decimal("2150.00")),
    )


def test_a_tax_of_no_percent_counts_as_none():
    nothing = TaxRate("Relief", Decimal(0))
    part = amounts((Category.LABOUR, "10.00", (nothing,)), (Category.PERMIT, "5.00", ()))

    assert einvoice_lines(part, "Work") == (ELine("Work: labour, permits", (), Decimal("15.00")),)


def test_the_sums_of_the_invoice_stand_in_it():
    xml = write_invoice(einvoice(TWO_TAXES_APART, prepaid=Decimal("500.00")))

    # 1500 + 400 + 2150 = 4050; 4050 + 120 + 10 = 4180; 4180 − 500 = 3680
    assert texts(xml, "LegalMonetaryTotal/LineExtensionAmount") == ["4050.00"]
    assert texts(xml, "LegalMonetaryTotal/TaxInclusiveAmount") == ["4180.00"]
    assert texts(xml, "LegalMonetaryTotal/PayableAmount") == ["3680.00"]
    assert texts(xml, "TaxSubtotal/TaxableAmount") == ["1500.00", "400.00", "2150.00"]
    assert texts(xml, "TaxSubtotal/TaxAmount") == ["120.00", "10.00", "0.00"]
    assert texts(xml, "TaxSubtotal/Percent") == ["8", "2.5", "0"]


def test_what_is_taken_off_is_a_piece_less_at_a_price_above_zero():
    xml = write_invoice(einvoice(WITH_LESS))

    assert texts(xml, "InvoiceLine/InvoicedQuantity") == ["1", "-1"]
    assert texts(xml, "InvoiceLine/LineExtensionAmount") == ["1500.00", "-85.40"]
    assert texts(xml, "InvoiceLine/PriceAmount") == ["1500.00", "85.40"]


def test_dates_numbers_and_words_stand_in_the_invoice():
    xml = write_invoice(einvoice(ONE_TAX, note="Second stage", order_reference="Q-0007"))

    assert texts(xml, "IssueDate") == ["2026-11-02"]
    assert texts(xml, "DueDate") == ["2026-12-02"]
    assert texts(xml, "InvoiceTypeCode") == ["380"]
    assert texts(xml, "Note") == [
        "Second stage",
        "State sales tax 8 %: 120.00 USD",
        "Due on 2026-12-02.",
    ]
    assert texts(xml, "OrderReference/ID") == ["Q-0007"]


def test_a_credit_note_names_the_invoice_it_corrects():
    xml = write_credit_note(einvoice(ONE_TAX, number="N-0001", due_on=None, invoice_reference="I-0001"))

    assert etree.QName(etree.fromstring(xml)).localname == "CreditNote"
    assert texts(xml, "CreditNoteTypeCode") == ["381"]
    assert texts(xml, "BillingReference/InvoiceDocumentReference/ID") == ["I-0001"]
    assert texts(xml, "CreditNoteLine/CreditedQuantity") == ["1"]
    assert texts(xml, "DueDate") == []


@pytest.mark.parametrize("of", [ONE_TAX, TWO_TAXES_APART, NO_TAX, WITH_LESS])
def test_an_invoice_with_at_most_one_tax_on_a_line_claims_the_norm(of):
    invoice = einvoice(of)

    assert claims_en16931(invoice)
    assert texts(write_invoice(invoice), "CustomizationID") == [NORM]


def test_stacked_taxes_claim_nothing_and_each_stands_under_its_name():
    invoice = einvoice(STACKED)
    xml = write_invoice(invoice)

    assert not claims_en16931(invoice)
    assert texts(xml, "CustomizationID") == []
    assert texts(xml, "TaxSubtotal/TaxableAmount") == ["1000.00", "1000.00"]
    assert texts(xml, "TaxSubtotal/TaxAmount") == ["80.00", "25.00"]
    assert texts(xml, "TaxSubtotal/Name") == ["State sales tax", "City sales tax"]


@pytest.mark.parametrize(
    "changes",
    [
        {"seller": Party("Harbor Lane Baths", (), "", "TX-4471")},
        {"seller": Party("Harbor Lane Baths", (), "US", " ", "office@example.com")},
        {"buyer": Party("Ada Brook", (), "")},
        {"buyer": Party("Ada Brook", (), "UK")},
        {"currency": "ABC"},
    ],
    ids=["seller's country", "tax number", "buyer's country", "no such country", "no such currency"],
)
def test_what_the_norm_asks_for_and_is_not_known_withdraws_the_claim(changes):
    invoice = einvoice(ONE_TAX, **changes)

    assert not claims_en16931(invoice)
    assert texts(write_invoice(invoice), "CustomizationID") == []


def test_without_tax_no_tax_number_is_asked_for_but_something_to_know_the_seller_by():
    by_mail = Party("Harbor Lane Baths", (), "US", "", "office@example.com")

    assert claims_en16931(einvoice(NO_TAX, seller=by_mail))
    assert not claims_en16931(einvoice(NO_TAX, seller=Party("Harbor Lane Baths", (), "US")))


@pytest.mark.parametrize(
    ("tax", "claims"), [("120.02", True), ("120.05", True), ("120.06", False), ("0.00", False)]
)
def test_a_tax_may_be_cents_off_its_base_times_rate_no_more(tax, claims):
    of = amounts((Category.MATERIAL, "1500.00", (STATE,)), state=tax)

    assert claims_en16931(einvoice(of)) is claims


def test_a_tax_without_a_line_withdraws_the_claim():
    of = amounts((Category.MATERIAL, "1500.00", (STATE,)), state="120.00", city="3.00")

    assert not claims_en16931(einvoice(of))


@pytest.mark.parametrize(
    ("seller", "schemes", "identity"),
    [
        (FIRM, ["TAX"], ["TX-4471"]),
        (Party("Baths", (), "GB", "gb123456789"), ["VAT"], []),
        (Party("Baths", (), "GR", "EL123456789"), ["VAT"], []),
    ],
    ids=["another number", "VAT number", "Greek VAT number"],
)
def test_a_number_that_starts_with_its_country_is_a_vat_number(seller, schemes, identity):
    xml = write_invoice(einvoice(ONE_TAX, seller=seller))

    assert texts(xml, "AccountingSupplierParty/PartyTaxScheme/TaxScheme/ID") == schemes
    assert texts(xml, "AccountingSupplierParty/PartyIdentification/ID") == identity


def test_an_address_of_many_lines_keeps_them_all():
    xml = write_invoice(einvoice(ONE_TAX, buyer=Party("Ada", ("1", "", "2", "3", "4"), "US")))

    buyer = "AccountingCustomerParty/PostalAddress/"
    lines = [texts(xml, buyer + name) for name in ("StreetName", "AdditionalStreetName", "Line")]
    assert lines == [["1"], ["2"], ["3, 4"]]


def test_any_text_can_stand_in_it_and_makes_no_markup():
    buyer = Party("Brook & Sons <Ltd> \x07\ud800🛁", ("4 Wharf\x00Row",), "US")

    xml = write_invoice(einvoice(ONE_TAX, buyer=buyer, note="]]> &amp;"))

    assert texts(xml, "AccountingCustomerParty/RegistrationName") == ["Brook & Sons <Ltd>   🛁"]
    assert texts(xml, "AccountingCustomerParty/StreetName") == ["4 Wharf Row"]
    assert texts(xml, "Note")[0] == "]]> &amp;"


def test_the_same_invoice_gives_the_same_bytes():
    assert write_invoice(einvoice(TWO_TAXES_APART)) == write_invoice(einvoice(TWO_TAXES_APART))


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"total": Decimal("1620.01")}, r"total: must be lines \+ taxes = 1620\.00, not 1620\.01"),
        ({"lines": (), "total": Decimal("120.00")}, "lines: must be at least one"),
        ({"number": " "}, "number: must not be empty"),
        ({"buyer": Party("\x00")}, "buyer: must not be empty"),
        ({"currency": "usd"}, "currency: must be three capital letters, not “usd”"),
        ({"prepaid": Decimal("0.001")}, "must be in whole cents"),
        ({"lines": (ELine("", (STATE,), Decimal(1500)),)}, r"lines\[0\]\.description: must not be empty"),
    ],
)
def test_what_is_no_invoice_is_refused_by_field(changes, words):
    with pytest.raises(BadEInvoice, match=words):
        write_invoice(einvoice(ONE_TAX, **changes))


def test_every_problem_is_named_at_once():
    with pytest.raises(BadEInvoice) as refused:
        write_invoice(einvoice(ONE_TAX, number="", total=Decimal(1), buyer=Party("")))

    assert [problem.field for problem in refused.value.problems] == ["number", "buyer", "total"]


def test_what_is_left_to_pay_is_the_total_less_what_was_paid():
    invoice = einvoice(ONE_TAX, prepaid=Decimal("1620.00"), issued_on=date(2026, 11, 3), buyer=CLIENT)

    assert invoice.payable == 0
