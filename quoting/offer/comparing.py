"""Two revisions of a quote, or a draft and today's prices, laid beside each other. Nothing is kept."""

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm
from quoting.offer.compare import Comparison, compare_figures
from quoting.offer.models import Quote
from quoting.offer.preview import price_without_keeping
from quoting.offer.queries import get_quote
from quoting.offer.services import draft_of


class CannotCompare(Refusal):
    """The two quotes are no revisions of one another."""


def reprice_difference(firm: Firm, quote_id: int) -> Comparison:
    """A quote as it stands against the same quote at today's rates and prices. Raise what pricing refuses."""
    quote = get_quote(firm, quote_id)
    return compare_figures(quote.figures, price_without_keeping(firm, draft_of(quote), quote.survey.site))


def compare_revisions(firm: Firm, quote_id: int, other_id: int) -> tuple[Quote, Quote, Comparison]:
    """Two revisions of one quote, the earlier first, and what changed. Raise CannotCompare."""
    pair = sorted((get_quote(firm, quote_id), get_quote(firm, other_id)), key=lambda row: row.revision)
    earlier, later = pair
    if earlier.pk == later.pk or (earlier.first_id or earlier.pk) != later.first_id:
        words = f"{pair[1].number} is no other revision of {pair[0].number}. Choose one of its revisions."
        raise CannotCompare(Problem("other", words))
    return earlier, later, compare_figures(earlier.figures, later.figures)
