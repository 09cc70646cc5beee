"""Electronic invoices before the judge: the schemas of UBL 2.1 and the published rules of EN 16931."""

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.countries import COUNTRIES
from quoting.engine.billing.amounts import Amounts, Slice, TaxRate
from quoting.engine.einvoice import EInvoice, Party, claims_en16931, write_credit_note, write_invoice
from quoting.engine.einvoice.codes import CURRENCIES
from quoting.engine.pricing.money import to_cents
from quoting.engine.pricing.values import Category
from tests.einvoice import RULES_FILE, is_ubl, schema_errors, validate
from tests.quoting.einvoice_makers import (
    NO_TAX,
    ONE_TAX,
    STACKED,
    TWO_TAXES_APART,
    WITH_LESS,
    einvoice,
)

pytestmark = pytest.mark.slow

CLAIMING = [ONE_TAX, TWO_TAXES_APART, NO_TAX, WITH_LESS]
NAMES = ["one tax", "two taxes apart", "no tax", "something taken off"]
BRITISH = Party("Baths", ("1 Quay",), "GB", "GB123456789")
WRITERS = [write_invoice, write_credit_note]


@pytest.mark.parametrize("write", WRITERS)
@pytest.mark.parametrize("of", CLAIMING, ids=NAMES)
def test_an_invoice_that_claims_the_norm_breaks_no_rule_of_it(of, write):
    xml = write(einvoice(of))

    assert b"urn:cen.eu:en16931:2017" in xml
    assert schema_errors(xml) == []
    assert validate(xml) == []


@pytest.mark.parametrize("write", WRITERS)
@pytest.mark.parametrize("of", CLAIMING, ids=NAMES)
@pytest.mark.parametrize(
    "changes",
    [
        {"due_on": None},
        {
            "prepaid": Decimal("100.00"),
            "note": "Stage 2",
            "order_reference": "Q-7",
            "invoice_reference": "I-9",
        },
        {
            "seller": BRITISH,
            "currency": "GBP",
            "buyer": Party("Ada", (), "GB", "GB987654321", "a@example.com"),
        },
        {"buyer": Party("Ada", ("1", "2", "3", "4"), "CA", "77-1")},
    ],
    ids=["no due date", "references", "VAT numbers", "long address"],
)
def test_no_detail_of_an_invoice_breaks_a_rule(of, write, changes):
    xml = write(einvoice(of, **changes))

    assert schema_errors(xml) == []
    assert validate(xml) == []


@pytest.mark.parametrize("write", WRITERS)
def test_stacked_taxes_are_ubl_and_the_norm_would_not_have_them(write):
    xml = write(einvoice(STACKED))

    assert is_ubl(xml)
    assert b"CustomizationID" not in xml
    assert "UBL-SR-48" in validate(xml)


def test_the_judge_sees_an_amount_to_pay_that_is_wrong_where_the_schema_does_not():
    xml = write_invoice(einvoice(ONE_TAX))
    wrong = re.sub(rb"(<cbc:PayableAmount[^>]*>)1620.00", rb"\g<1>1621.00", xml)

    assert wrong != xml
    assert is_ubl(wrong)
    assert validate(wrong) == ["BR-CO-16"]


def test_the_judge_sees_a_tax_that_is_wrong():
    xml = write_invoice(einvoice(ONE_TAX))
    wrong = re.sub(rb"(<cac:TaxSubtotal>.*?<cbc:TaxAmount[^>]*>)120.00", rb"\g<1>150.00", xml)

    assert wrong != xml
    assert {"BR-CO-14", "BR-CO-17", "BR-S-09"} <= set(validate(wrong))


def test_the_judge_sees_a_missing_name_and_elements_out_of_order():
    xml = write_invoice(einvoice(ONE_TAX))
    nameless = re.sub(rb"<cac:PartyLegalEntity>.*?</cac:PartyLegalEntity>", b"", xml, count=1)
    swapped = re.sub(rb"(<cbc:ID>I-0001</cbc:ID>)(<cbc:IssueDate>.*?</cbc:IssueDate>)", rb"\2\1", xml)

    assert validate(nameless) == ["BR-06"]
    assert swapped != xml
    assert not is_ubl(swapped)


def test_the_judge_does_not_pass_what_no_rule_looked_at():
    with pytest.raises(AssertionError, match="no rule of EN 16931"):
        validate(b"<Letter xmlns='urn:example:letter'/>")


@pytest.mark.parametrize(("rule", "codes"), [("BR-CL-14", COUNTRIES), ("BR-CL-04", CURRENCIES)])
def test_every_country_and_currency_is_on_the_list_of_its_rule(rule, codes):
    sheet = RULES_FILE.read_text()
    before = sheet[: sheet.index(f">{rule}<")]
    allowed = set(re.findall(r"contains\(' ([A-Z0-9 ]+) '", before)[-1].split())

    assert codes <= allowed
    assert len(codes) > 150


cents = st.integers(-5_000_000, 5_000_000).map(lambda amount: Decimal(amount) / 100)
rates = st.integers(50, 3_000).map(lambda rate: Decimal(rate) / 100)
taxes = st.builds(TaxRate, st.sampled_from(["State tax", "City tax", "Road tax"]), rates)
parts = st.dictionaries(st.sampled_from(Category), st.tuples(cents, st.lists(taxes, max_size=2)), min_size=1)
words = st.text(max_size=30)


@st.composite
def bills(draw: st.DrawFn) -> EInvoice:
    """Any bill: parts of any sign, no, one or two taxes on each, taxes a cent off, any words."""
    nets = {Slice(category, tuple(on)): net for category, (net, on) in draw(parts).items()}
    bases: dict[TaxRate, Decimal] = {}
    for part, net in nets.items():
        for tax in set(part.taxes):
            bases[tax] = bases.get(tax, Decimal(0)) + net
    off = draw(st.sampled_from([Decimal("-0.01"), Decimal("0.00"), Decimal("0.01")]))
    of = Amounts(nets, {tax: to_cents(base * tax.rate / 100) + off for tax, base in bases.items()})
    changes = {
        "note": draw(words),
        "buyer": Party("Ada Brook", tuple(draw(st.lists(words, max_size=5))), "US"),
    }
    return einvoice(of, **changes, prepaid=to_cents(draw(cents)), due_on=None)


@given(bill=bills(), write=st.sampled_from(WRITERS))
def test_any_bill_is_ubl_and_keeps_every_rule_where_it_claims_to(bill, write):
    xml = write(bill)

    assert schema_errors(xml) == []
    assert (b"CustomizationID" in xml) == claims_en16931(bill)
    if claims_en16931(bill):
        assert validate(xml) == []


@given(bill=bills())
def test_any_bill_without_stacked_taxes_claims_the_norm(bill):
    stacked = any(len(line.taxes) > 1 for line in bill.lines)

    assert claims_en16931(bill) is not stacked
