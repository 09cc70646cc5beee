"""Addresses of jobs as the crew sees them."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
