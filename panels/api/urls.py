"""The API calls of the panels room."""

from django.urls import URLPattern, URLResolver, include, path

urlpatterns: list[URLPattern | URLResolver] = [
    path("", include("panels.api.load_urls")),
]
