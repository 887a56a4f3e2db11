"""The pages a technician works with."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
