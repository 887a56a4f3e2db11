"""Every call of the API; each room lists its own."""

from django.urls import URLPattern, URLResolver, include, path

urlpatterns: list[URLPattern | URLResolver] = [
    path("", include("panels.api.urls")),
    path("", include("jobs.api.urls")),
    path("", include("followups.api.urls")),
]
