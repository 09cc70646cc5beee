"""Template filters. Money, hours and lengths are shown through these only."""

from decimal import Decimal

from django import template

register = template.Library()


@register.filter
def money(value: Decimal | str | None, currency: str = "") -> str:
    """An amount with two decimals and thousands separators; a dash when it is not known."""
    if value is None or value == "":
        return "—"
    amount = Decimal(value)
    sign = "−" if amount < 0 else ""
    symbol = {"USD": "$", "CAD": "$", "EUR": "€", "GBP": "£"}.get(
        currency, "$" if not currency else f"{currency} "
    )
    return f"{sign}{symbol}{abs(amount):,.2f}"
