"""Pages about clients and their sites, for owner and office."""

from functools import partial

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from labour.firm.access import OFFICE, MemberRequest, page
from labour.firm.forms import submit
from quoting.clients import services
from quoting.clients.forms import ClientForm, SearchForm, SiteForm
from quoting.clients.queries import get_client, get_site, list_clients, list_sites

_CLIENT_FIELDS = ("name", "email", "phone", "address")
_SITE_FIELDS = ("address", "year_built", "storeys_to_carry", "is_occupied", "notes")


@page(*OFFICE)
@require_safe
def clients(request: MemberRequest) -> HttpResponse:
    """The list, with search."""
    form = SearchForm(request.GET)
    asked = form.cleaned_data if form.is_valid() else {}
    search, after = asked.get("search", ""), asked.get("after")
    given = {"form": form, "search": search, "after": after}
    return render(
        request, "clients/clients.html", given | {"found": list_clients(request.firm, search, after)}
    )


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def add_client(request: MemberRequest) -> HttpResponse:
    """A new client."""
    form = ClientForm(request.POST if request.method == "POST" else None)
    act = partial(services.add_client, firm=request.firm, at=timezone.now(), by=request.member.user)
    client = submit(form, act) if form.is_bound else None
    if client is None:
        return render(request, "clients/client_add.html", {"form": form})
    messages.success(request, f"{client} is added. Next: add the house where the work is.")
    return redirect("client", pk=client.pk)


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def client(request: MemberRequest, pk: int) -> HttpResponse:
    """A client's details and sites."""
    row = get_client(request.firm, pk)
    initial = {name: getattr(row, name) for name in _CLIENT_FIELDS}
    form = ClientForm(request.POST if request.method == "POST" else None, initial=initial)
    act = partial(services.change_client, client=row, at=timezone.now(), by=request.member.user)
    if form.is_bound and submit(form, act) is not None:
        messages.success(request, "The client's details are saved.")
        return redirect("client", pk=pk)
    return render(request, "clients/client.html", {"form": form, "client": row, "sites": list_sites(row)})


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def add_site(request: MemberRequest, pk: int) -> HttpResponse:
    """A new site of the client."""
    row = get_client(request.firm, pk)
    form = SiteForm(request.POST if request.method == "POST" else None, initial={"address": row.address})
    act = partial(services.add_site, client=row, at=timezone.now(), by=request.member.user)
    if form.is_bound and submit(form, act) is not None:
        messages.success(request, "The site is added. Next: measure the room and make a quote.")
        return redirect("client", pk=pk)
    return render(request, "clients/site_add.html", {"form": form, "client": row})


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def site(request: MemberRequest, pk: int) -> HttpResponse:
    """What is known about a site."""
    row = get_site(request.firm, pk)
    initial = {name: getattr(row, name) for name in _SITE_FIELDS}
    form = SiteForm(request.POST if request.method == "POST" else None, initial=initial)
    act = partial(services.change_site, site=row, at=timezone.now(), by=request.member.user)
    if form.is_bound and submit(form, act) is not None:
        messages.success(request, "The site is saved.")
        return redirect("client", pk=row.client_id)
    return render(request, "clients/site.html", {"form": form, "site": row})
