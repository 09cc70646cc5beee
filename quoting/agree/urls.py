"""Addresses of agreements: the client's private page, acceptance, links."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
