"""Addresses of what was agreed: the firm's pages, and the client's own behind a token."""

from django.urls import path

from quoting.agree import pages, public

urlpatterns = [
    path("quotes/<int:quote_id>/client/", pages.links, name="quote-links"),
    path("quotes/<int:quote_id>/client/make/", pages.make, name="link-make"),
    path("quotes/<int:quote_id>/client/send/", pages.send, name="link-send"),
    path("quotes/<int:quote_id>/client/<int:link_id>/withdraw/", pages.revoke, name="link-revoke"),
    path("quotes/<int:quote_id>/accepted-on-paper/", pages.accept_on_paper, name="accept-on-paper"),
    path("jobs/<int:job_id>/terms/", pages.terms, name="contract-terms"),
    path("offer/<str:token>/", public.offer, name="offer-public"),
    path("offer/<str:token>/decline/", public.decline, name="offer-decline"),
    path("offer/<str:token>/paper.pdf", public.paper, name="offer-paper"),
    path("offer/<str:token>/executed.pdf", public.executed, name="offer-executed"),
]
