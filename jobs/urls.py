"""The pages of the jobs room."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
