"""Addresses of the first page, and of jobs with their money."""

from django.urls import path

from quoting.overview import job_pages, pages

urlpatterns = [
    path("", pages.home, name="home"),
    path("set-up/finish/", pages.finish, name="set-up-finish"),
    path("jobs/", job_pages.contracts, name="contracts"),
    path("jobs/<int:job_id>/", job_pages.contract, name="contract"),
    path("jobs/<int:job_id>/days/", job_pages.job_days, name="job-days"),
    path("jobs/<int:job_id>/buying-list/", job_pages.job_buying_list, name="job-buying"),
    path("papers/<int:pk>.pdf", job_pages.issued_paper, name="issued-paper"),
]
