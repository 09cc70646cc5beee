"""Addresses of this step."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
