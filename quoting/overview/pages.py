"""The first page, and the end of a firm's set-up."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from labour.engine.refusal import Refusal
from labour.firm.access import EVERYONE, OWNER, MemberRequest, page
from quoting.overview.queries import get_overview, list_work_sheets
from quoting.overview.reference import list_route_groups
from quoting.overview.services import open_firm


@page(*EVERYONE)
@require_GET
def home(request: MemberRequest) -> HttpResponse:
    """The newest quotes for owner and office; work sheets for the crew."""
    if not request.member.sees_prices:
        return render(request, "overview/crew.html", {"quotes": list_work_sheets(request.firm)})
    return render(request, "overview/home.html", {"overview": get_overview(request.firm)})


@page(*EVERYONE)
@require_GET
def api_docs(request: MemberRequest) -> HttpResponse:
    """Every route of the API, for those who write programs."""
    return render(request, "overview/api.html", {"groups": list_route_groups()})


@page(*OWNER, before_set_up=True)
@require_POST
def finish(request: MemberRequest) -> HttpResponse:
    """Load the books of a new firm and open it for business."""
    try:
        open_firm(firm=request.firm, by=request.member.user, at=timezone.now())
    except Refusal as refusal:
        for problem in refusal.problems:
            messages.error(request, str(problem))
        return redirect("set-up-workers")
    messages.success(
        request, "Ready. Check the starting prices below: they are guesses until you change them."
    )
    return redirect("price-settings")
