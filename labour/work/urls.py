"""Addresses of jobs as the crew sees them."""

from django.urls import path

from labour.work import log_pages, pages

urlpatterns = [
    path("jobs/tasks/", pages.jobs, name="jobs"),
    path("jobs/<int:job_id>/tasks/", pages.job, name="job"),
    path("jobs/<int:job_id>/log/", log_pages.log, name="job-log"),
    path("jobs/<int:job_id>/log/more/", log_pages.more, name="log-more"),
    path("jobs/<int:job_id>/log/<int:entry_id>/", log_pages.entry, name="log-entry"),
    path("jobs/<int:job_id>/log/<int:entry_id>/again/", log_pages.repeat, name="log-repeat"),
    path("jobs/<int:job_id>/log/<int:entry_id>/strike/", log_pages.strike, name="log-strike"),
    path("log/", log_pages.my_log, name="my-log"),
]
