"""Addresses of this step."""

from django.urls import URLPattern, path

from quoting.catalogue import pages

urlpatterns: list[URLPattern] = [
    path("", pages.materials, name="materials"),
    path("add/", pages.add_material, name="material-add"),
    path("<slug:code>/", pages.material, name="material"),
    path("<slug:code>/edit/", pages.edit_material, name="material-edit"),
]
