"""Every address of the site, and a bare one."""

from django.http import HttpRequest, HttpResponse
from django.urls import include, path


def bare(request: HttpRequest) -> HttpResponse:
    """The least that a view can do."""
    return HttpResponse("ok")


urlpatterns = [path("bare/", bare), path("", include("quoting.urls"))]
