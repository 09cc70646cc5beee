"""Addresses of past jobs."""

from django.urls import path

from quoting.past import pages

urlpatterns = [
    path("jobs/past/", pages.past, name="past"),
    path("jobs/past/<int:table_id>/", pages.table, name="past-table"),
    path("jobs/past/<int:table_id>/match/", pages.match, name="past-match"),
    path("jobs/past/<int:table_id>/take/", pages.take, name="past-take"),
    path("jobs/past/<int:table_id>/put-out/", pages.put_out, name="past-put-out"),
    path("jobs/past/<int:table_id>/drop/", pages.drop, name="past-drop"),
]
