"""The pages of the panels room."""

from django.urls import URLPattern, URLResolver, include, path

urlpatterns: list[URLPattern | URLResolver] = [
    path("", include("panels.directory_urls")),
]
