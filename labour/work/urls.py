"""Addresses of jobs as the crew sees them."""

from django.urls import path

from labour.work import pages

urlpatterns = [
    path("jobs/tasks/", pages.jobs, name="jobs"),
    path("jobs/<int:job_id>/tasks/", pages.job, name="job"),
]
