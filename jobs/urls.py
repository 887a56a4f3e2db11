"""The pages of the jobs room."""

from django.urls import URLPattern, URLResolver, include, path

urlpatterns: list[URLPattern | URLResolver] = [
    path("", include("jobs.field_urls")),
]
