"""What the top of every paper says about the firm."""

from labour.firm.models import Firm

_NAMES = (
    *("name", "address", "phone", "email", "licence_text", "currency", "paper", "units"),
    *("country", "tax_number"),
)


def letterhead_of(firm: Firm) -> dict[str, str]:
    """The firm as a paper's template reads it."""
    return {name: getattr(firm, name) for name in _NAMES}
