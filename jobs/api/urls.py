"""The API calls of the jobs room."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
