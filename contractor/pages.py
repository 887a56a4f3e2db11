"""The pages of the firm's room."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
