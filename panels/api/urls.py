"""The API calls of the panels room."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
