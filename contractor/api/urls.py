"""Every call of the API; each room lists its own."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
