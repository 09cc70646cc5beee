"""Collects the models of the steps for Django; nobody else imports this."""

from quoting.agree.models import Acceptance, Contract, ContractPart, OfferLink, Photo, ScheduleRow
from quoting.bill.models import AccountLink, CreditNote, Invoice, Payment, PaymentShare, RetainageRelease
from quoting.catalogue.models import ConsumptionRow, MaterialRow
from quoting.change.models import Approval, ChangeLink, ChangeOrder
from quoting.clients.models import Client, Site
from quoting.closeout.models import Closeout, JobCost
from quoting.documents.models import IssuedPaper, Letter, NumberSeries
from quoting.measure.models import RoomRow, Survey
from quoting.offer.models import Quote
from quoting.past.models import PastJob, PastTable
from quoting.price.models import CategoryRuleRow, ConcealedFinding, PriceSettings, SalesTaxRow

__all__ = [
    "Acceptance",
    "AccountLink",
    "Approval",
    "CategoryRuleRow",
    "ChangeLink",
    "ChangeOrder",
    "Client",
    "Closeout",
    "ConcealedFinding",
    "ConsumptionRow",
    "Contract",
    "ContractPart",
    "CreditNote",
    "Invoice",
    "IssuedPaper",
    "JobCost",
    "Letter",
    "MaterialRow",
    "NumberSeries",
    "OfferLink",
    "PastJob",
    "PastTable",
    "Payment",
    "PaymentShare",
    "Photo",
    "PriceSettings",
    "Quote",
    "RetainageRelease",
    "RoomRow",
    "SalesTaxRow",
    "ScheduleRow",
    "Site",
    "Survey",
]
