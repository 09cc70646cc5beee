"""Addresses of clients and sites."""

from django.urls import path

from quoting.clients import pages

urlpatterns = [
    path("", pages.clients, name="clients"),
    path("add/", pages.add_client, name="client-add"),
    path("<int:pk>/", pages.client, name="client"),
    path("<int:pk>/sites/add/", pages.add_site, name="site-add"),
    path("sites/<int:pk>/", pages.site, name="site"),
]
