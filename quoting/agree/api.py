"""Routes of agreements."""

from ninja import Router

router = Router(tags=["agreements"])
