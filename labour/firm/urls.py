"""Addresses of this step."""

from django.urls import URLPattern, path

from labour.firm import pages, people_pages

urlpatterns: list[URLPattern] = [
    path("set-up/", pages.set_up, name="set-up"),
    path("set-up/workers/", pages.set_up_workers, name="set-up-workers"),
    path("firm/", pages.firm, name="firm"),
    path("firm/workers/", pages.workers, name="workers"),
    path("firm/workers/<int:pk>/", pages.worker, name="worker"),
    path("firm/workers/<int:pk>/retire/", pages.retire_worker, name="worker-retire"),
    path("firm/workers/<int:pk>/log-in/", people_pages.tie_worker, name="worker-tie"),
    path("firm/people/", people_pages.people, name="people"),
    path("firm/people/<int:pk>/", people_pages.member, name="member"),
    path("firm/people/<int:pk>/remove/", people_pages.remove_member, name="member-remove"),
    path("firm/keys/", people_pages.tokens, name="tokens"),
    path("firm/keys/<int:pk>/revoke/", people_pages.revoke_token, name="token-revoke"),
]
