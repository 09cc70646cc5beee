"""Addresses of invoices, credit notes, payments and reports."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
