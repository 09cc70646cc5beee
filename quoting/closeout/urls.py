"""Addresses of a job's costs and of its end."""

from django.urls import path

from quoting.closeout import pages

urlpatterns = [
    path("jobs/<int:job_id>/costs/", pages.costs, name="job-costs"),
    path("jobs/<int:job_id>/costs/<int:cost_id>/strike/", pages.strike, name="job-cost-strike"),
    path("jobs/<int:job_id>/close/", pages.close, name="job-close"),
    path("jobs/<int:job_id>/closeout/", pages.closeout, name="closeout"),
    path("jobs/<int:job_id>/closeout/closeout.pdf", pages.closeout_paper, name="closeout-pdf"),
    path("jobs/<int:job_id>/closeout/closeout.csv", pages.closeout_table, name="closeout-csv"),
    path("jobs/<int:job_id>/reopen/", pages.reopen, name="job-reopen"),
]
