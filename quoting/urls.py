"""Every address of the site; the steps define their own."""

from django.urls import URLPattern, URLResolver, include, path

from quoting.api import addresses
from quoting.overview.pages import api_docs

urlpatterns: list[URLPattern | URLResolver] = [
    path("api/docs", api_docs, name="api-docs"),
    path("api/", addresses),
    path("accounts/", include("allauth.account.urls")),
    path("", include("quoting.overview.urls")),
    path("", include("labour.firm.urls")),
    path("rate-book/learned/", include("labour.learn.urls")),
    path("rate-book/", include("labour.ratebook.urls")),
    path("templates/", include("labour.plan.urls")),
    path("clients/", include("quoting.clients.urls")),
    path("materials/", include("quoting.catalogue.urls")),
    path("prices/", include("quoting.price.urls")),
    path("quotes/", include("quoting.offer.urls")),
    path("", include("labour.work.urls")),
    path("hours/", include("labour.review.urls")),
    path("", include("quoting.agree.urls")),
    path("", include("quoting.change.urls")),
    path("", include("quoting.bill.urls")),
    path("", include("quoting.closeout.urls")),
    path("", include("quoting.past.urls")),
]
