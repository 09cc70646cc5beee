"""Addresses of the first page."""

from django.urls import path

from quoting.overview import pages

urlpatterns = [
    path("", pages.home, name="home"),
    path("set-up/finish/", pages.finish, name="set-up-finish"),
]
