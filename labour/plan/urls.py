"""Addresses of this step."""

from django.urls import URLPattern, path

from labour.plan import pages

urlpatterns: list[URLPattern] = [
    path("", pages.templates, name="templates"),
    path("<slug:slug>/", pages.template, name="template"),
    path("<slug:slug>/edit/", pages.edit_template, name="template-edit"),
    path("<slug:slug>/copy/", pages.copy_template, name="template-copy"),
]
