"""Routes of jobs."""

from ninja import Router

router = Router(tags=["jobs"])
