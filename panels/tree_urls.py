"""The pages of a site's tree of panels: its service, its load and its fault current."""

from django.urls import path

from panels.views import service, trees

urlpatterns = [
    path("sites/<uuid:pk>/service/", service.page, name="service"),
    path("sites/<uuid:pk>/feeders/", trees.feeders, name="feeders"),
    path("sites/<uuid:pk>/fault/", trees.fault, name="fault"),
    path("calculations/<uuid:pk>/marking.pdf", trees.marking, name="fault-marking"),
]
