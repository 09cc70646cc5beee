"""Addresses of this step."""

from django.urls import URLPattern, path

from quoting.price import pages

urlpatterns: list[URLPattern] = [
    path("", pages.price_settings, name="price-settings"),
    path("example/<slug:category>/", pages.price_example, name="price-example"),
]
