"""The pages of the firm's room."""

from django.urls import URLPattern, path

from contractor.views import look

urlpatterns: list[URLPattern] = [
    path("light/", look.light, name="light"),
    path("look/", look.look, name="look"),
]
