"""Addresses of change orders: for the office, for the crew, and for the client."""

from django.urls import path

from quoting.change import line_pages, pages, photo_pages, public

_CHANGE = "changes/<int:change_id>/"
_CLIENT = "change/<str:token>/"

urlpatterns = [
    path("jobs/<int:job_id>/changes/", pages.job_changes, name="job-changes"),
    path("jobs/<int:job_id>/changes/new/", pages.new, name="change-new"),
    path("jobs/<int:job_id>/findings/new/", photo_pages.finding, name="finding-new"),
    path("jobs/<int:job_id>/photos/", photo_pages.photos, name="job-photos"),
    path("photos/<int:photo_id>.jpg", photo_pages.photo, name="photo"),
    path(_CHANGE, pages.change, name="change"),
    path(f"{_CHANGE}paper.pdf", pages.paper, name="change-paper"),
    path(f"{_CHANGE}words/", line_pages.words, name="change-words"),
    path(f"{_CHANGE}add-work/", line_pages.add_work, name="change-add-work"),
    path(f"{_CHANGE}add-template/", line_pages.add_template, name="change-add-template"),
    path(f"{_CHANGE}add-line/", line_pages.add_plain, name="change-add-line"),
    path(f"{_CHANGE}add-credit/", line_pages.add_credit, name="change-add-credit"),
    path(f"{_CHANGE}settle-allowance/", line_pages.settle_allowance, name="change-settle-allowance"),
    path(f"{_CHANGE}drop-line/", line_pages.drop_line, name="change-drop-line"),
    path(f"{_CHANGE}photos/", photo_pages.change_photos, name="change-photos"),
    path(f"{_CHANGE}drop-photo/", photo_pages.drop_photo, name="change-drop-photo"),
    path(f"{_CHANGE}send/", pages.send, name="change-send"),
    path(f"{_CHANGE}link/", pages.new_link, name="change-link"),
    path(f"{_CHANGE}approve/", pages.approve_on_paper, name="change-approve"),
    path(f"{_CHANGE}decline/", pages.decline, name="change-decline"),
    path(f"{_CHANGE}withdraw/", pages.withdraw, name="change-withdraw"),
    path(f"{_CHANGE}start/", pages.start, name="change-start"),
    path(f"{_CHANGE}settle/", pages.settle, name="change-settle"),
    path(_CLIENT, public.show, name="public-change"),
    path(f"{_CLIENT}paper.pdf", public.paper, name="public-change-paper"),
    path(f"{_CLIENT}approved.pdf", public.executed, name="public-change-executed"),
    path(f"{_CLIENT}photos/<int:photo_id>.jpg", public.photo, name="public-change-photo"),
    path(f"{_CLIENT}decline/", public.decline, name="public-change-decline"),
]
