"""The API calls of the followups room."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
