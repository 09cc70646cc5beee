"""Addresses of this step."""

from django.urls import URLPattern, path

from labour.learn import pages

urlpatterns: list[URLPattern] = [
    path("", pages.learned, name="learned"),
    path("take-all/", pages.take_all, name="learned-take-all"),
    path("leave-all/", pages.leave_all, name="learned-leave-all"),
    path("again/", pages.learn_again, name="learned-again"),
    path("<int:proposal_id>/take/", pages.take, name="learned-take"),
    path("<int:proposal_id>/leave/", pages.leave, name="learned-leave"),
]
