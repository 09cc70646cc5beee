"""The firm's seal on a paper: it validates, shows tampering, and takes no mark from the paper."""

from datetime import UTC, datetime, timedelta
from io import BytesIO

import pikepdf
import pytest
from asn1crypto import x509 as asn1
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import rsa
from cryptography.hazmat.primitives.serialization import pkcs12
from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko.sign.validation.status import PdfSignatureStatus
from pyhanko_certvalidator import ValidationContext

from labour.firm.models import Firm
from quoting.documents.rendering import render_pdf
from quoting.documents.sealing import CannotSeal, seal
from tests.makers import AT

pytestmark = pytest.mark.slow
PASSWORD = "four words of brass"
HTML = (
    "<!doctype html><html lang='en'><head><title>Invoice</title></head><body><h1>Invoice</h1></body></html>"
)


@pytest.fixture(scope="module")
def plain():
    return render_pdf(HTML, paper="letter", at=AT)


@pytest.fixture(scope="module")
def key():
    return rsa.generate_private_key(public_exponent=65537, key_size=2048)


@pytest.fixture(scope="module")
def certificate(key):
    name = x509.Name([x509.NameAttribute(x509.NameOID.COMMON_NAME, "Harbor Lane Baths")])
    now = datetime.now(UTC)
    usage = dict.fromkeys(
        (
            *("key_encipherment", "data_encipherment", "key_agreement"),
            *("key_cert_sign", "crl_sign", "encipher_only", "decipher_only"),
        ),
        False,
    )
    return (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=30))
        .add_extension(x509.KeyUsage(digital_signature=True, content_commitment=True, **usage), critical=True)
        .sign(key, hashes.SHA256())
    )


@pytest.fixture
def firm(key, certificate, tmp_path, settings):
    """A firm, not kept, that has a certificate and its password in the folder of seals."""
    settings.SEALS = tmp_path
    locked = serialization.BestAvailableEncryption(PASSWORD.encode())
    content = pkcs12.serialize_key_and_certificates(b"seal", key, certificate, None, locked)
    (tmp_path / "7.p12").write_bytes(content)
    (tmp_path / "7.password").write_text(PASSWORD + "\n")
    return Firm(pk=7, name="Harbor Lane Baths")


def judge(sealed: bytes, certificate: x509.Certificate) -> PdfSignatureStatus:
    """What someone who trusts the certificate learns about the paper."""
    root = asn1.Certificate.load(certificate.public_bytes(serialization.Encoding.DER))
    (signature,) = PdfFileReader(BytesIO(sealed)).embedded_signatures
    return validate_pdf_signature(signature, ValidationContext(trust_roots=[root]))


def test_a_sealed_paper_validates_as_a_whole(firm, plain, certificate):
    status = judge(seal(firm, plain), certificate)

    assert status.bottom_line
    assert status.coverage.name == "ENTIRE_FILE"
    assert status.signing_cert.subject.native["common_name"] == "Harbor Lane Baths"


def test_the_seal_is_appended_to_the_paper_as_it_was(firm, plain):
    sealed = seal(firm, plain)

    assert sealed.startswith(plain)
    assert len(sealed) > len(plain)


def test_a_byte_changed_afterwards_shows(firm, plain, certificate):
    sealed = bytearray(seal(firm, plain))

    sealed[plain.index(b"stream") + 20] ^= 1

    assert not judge(bytes(sealed), certificate).bottom_line


def test_something_appended_afterwards_shows(firm, plain, certificate):
    writer = IncrementalPdfFileWriter(BytesIO(seal(firm, plain)))
    writer.root["/Extra"] = writer.add_object(writer.root.raw_get("/Pages").get_object())
    writer.update_root()
    changed = BytesIO()
    writer.write(changed)

    assert not judge(changed.getvalue(), certificate).bottom_line


def test_the_marks_of_archival_and_accessible_papers_stay(firm, plain):
    with pikepdf.open(BytesIO(seal(firm, plain))) as pdf, pdf.open_metadata() as metadata:
        marks = {name: metadata.get(name) for name in ("pdfaid:part", "pdfaid:conformance", "pdfuaid:part")}
        field = pdf.Root.AcroForm.Fields[0]

        assert marks == {"pdfaid:part": "3", "pdfaid:conformance": "A", "pdfuaid:part": "1"}
        assert pdf.Root.MarkInfo.Marked is True
        assert [float(edge) for edge in field.Rect] == [0, 0, 0, 0]


def test_a_wrong_password_is_refused_and_names_the_setting(firm, plain, tmp_path):
    (tmp_path / "7.password").write_text("another")

    with pytest.raises(CannotSeal, match=r"SCREEDBOOK_SEALS: 7\.p12 can not be opened.*7\.password"):
        seal(firm, plain)


@pytest.mark.parametrize("content", [b"", b"not a certificate"])
def test_what_is_no_certificate_is_refused(firm, plain, tmp_path, content):
    (tmp_path / "7.p12").write_bytes(content)

    with pytest.raises(CannotSeal, match="SCREEDBOOK_SEALS"):
        seal(firm, plain)


def test_a_setting_that_names_no_folder_is_refused(firm, plain, tmp_path, settings):
    settings.SEALS = tmp_path / "elsewhere"

    with pytest.raises(CannotSeal, match="SCREEDBOOK_SEALS: must name a folder"):
        seal(firm, plain)


def test_a_firm_without_a_certificate_leaves_its_papers_plain(firm, plain):
    assert seal(Firm(pk=8, name="Tidewater Tile"), plain) == plain


def test_without_the_setting_every_paper_stays_plain(firm, plain, settings):
    settings.SEALS = None

    assert seal(firm, plain) == plain
