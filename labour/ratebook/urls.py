"""Addresses of this step."""

from django.urls import URLPattern, path

from labour.ratebook import pages

urlpatterns: list[URLPattern] = [
    path("", pages.rate_book, name="rate-book"),
    path("add/", pages.add_rate, name="rate-add"),
    path("<slug:code>/", pages.rate, name="rate"),
    path("<slug:code>/put-back/<int:version_id>/", pages.put_back, name="rate-put-back"),
]
