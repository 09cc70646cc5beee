"""Addresses of hours: estimated against actual, and how stated ranges held."""

from django.urls import path

from labour.review import pages

urlpatterns = [
    path("", pages.hours, name="hours"),
    path("table.csv", pages.hours_csv, name="hours-csv"),
    path("entries/", pages.entries, name="hours-entries"),
    path("entries.csv", pages.behind_csv, name="hours-entries-csv"),
    path("kept/", pages.kept, name="hours-kept"),
    path("kept.csv", pages.ranges_csv, name="hours-kept-csv"),
]
