"""Routes of changes."""

from ninja import Router

router = Router(tags=["changes"])
