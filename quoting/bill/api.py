"""Routes of bills."""

from ninja import Router

router = Router(tags=["bills"])
