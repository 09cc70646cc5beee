"""Collects the models of the steps for Django; nobody else imports this."""

from quoting.catalogue.models import ConsumptionRow, MaterialRow
from quoting.clients.models import Client, Site
from quoting.documents.models import IssuedPaper, NumberSeries
from quoting.measure.models import RoomRow, Survey
from quoting.offer.models import Quote
from quoting.price.models import CategoryRuleRow, PriceSettings, SalesTaxRow

__all__ = [
    "CategoryRuleRow",
    "Client",
    "ConsumptionRow",
    "IssuedPaper",
    "MaterialRow",
    "NumberSeries",
    "PriceSettings",
    "Quote",
    "RoomRow",
    "SalesTaxRow",
    "Site",
    "Survey",
]
