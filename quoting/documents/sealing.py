"""The firm's seal: an invisible signature over an issued paper. Without a certificate a paper stays plain.

Comes in: a paper's bytes. Goes out: the same bytes and, appended, a PAdES signature that certifies them and
allows no change (ISO 32000-2, 12.8; ETSI EN 319 142-1, level B-B). It shows that the paper is the firm's and
whole; it carries no time of an outside authority. The marks of archival and accessible papers stay.
"""

from io import BytesIO
from pathlib import Path
from typing import Any

from django.conf import settings

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm

_FIELD = "Seal"
_SETTING = "SCREEDBOOK_SEALS"


class CannotSeal(Refusal):
    """The firm has a certificate, but it can not be used."""


def seal(firm: Firm, pdf: bytes) -> bytes:
    """The paper with the firm's seal appended, or as it came when the firm has no certificate.

    Raise CannotSeal for a certificate that can not be opened.
    """
    file = _find_certificate(firm)
    return pdf if file is None else _sign(_read_signer(file), pdf)


def _find_certificate(firm: Firm) -> Path | None:
    """The firm's certificate with its key, in the folder of the settings."""
    if settings.SEALS is None:
        return None
    folder = Path(settings.SEALS)
    if not folder.is_dir():
        raise CannotSeal(Problem(_SETTING, f"must name a folder; {folder} is none."))
    file = folder / f"{firm.pk}.p12"
    return file if file.exists() else None


def _read_signer(file: Path) -> Any:
    from pyhanko.sign.signers import SimpleSigner

    password = file.with_suffix(".password")
    try:
        secret = password.read_text().strip().encode() if password.exists() else None
        return SimpleSigner.load_pkcs12_data(file.read_bytes(), [], passphrase=secret)
    except (OSError, ValueError, AttributeError) as error:
        words = f"{file.name} can not be opened; write its password into {password.name} in the same folder."
        raise CannotSeal(Problem(_SETTING, words)) from error


def _sign(signer: Any, pdf: bytes) -> bytes:
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.sign.fields import MDPPerm, SigFieldSpec, SigSeedSubFilter
    from pyhanko.sign.signers import PdfSignatureMetadata, PdfSigner

    mark = PdfSignatureMetadata(
        field_name=_FIELD,
        subfilter=SigSeedSubFilter.PADES,
        md_algorithm="sha256",
        certify=True,
        docmdp_permissions=MDPPerm.NO_CHANGES,
    )
    sealed = BytesIO()
    writer = IncrementalPdfFileWriter(BytesIO(pdf))
    PdfSigner(mark, signer=signer, new_field_spec=SigFieldSpec(_FIELD, on_page=0)).sign_pdf(
        writer, output=sealed
    )
    return sealed.getvalue()
