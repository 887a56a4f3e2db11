"""The pages of the panels room."""

from django.urls import URLPattern, URLResolver, include, path

from panels.views import (
    balance,
    checks,
    circuits,
    conductors,
    outage,
    panels,
    readings,
    record,
    schedule,
    sources,
)

urlpatterns: list[URLPattern | URLResolver] = [
    path("sites/<uuid:pk>/panels/add/", panels.add, name="panel-add"),
    path("sites/<uuid:pk>/sources/add/", sources.add, name="source-add"),
    path("sites/<uuid:pk>/backup/", sources.backed_up, name="backup"),
    path("sites/<uuid:pk>/outage/", outage.outage, name="outage"),
    path("panels/<uuid:pk>/", panels.panel, name="panel"),
    path("panels/<uuid:pk>/check/", checks.page, name="panel-check"),
    path("panels/<uuid:pk>/balance/", balance.page, name="balance"),
    path("panels/<uuid:pk>/balance/make/", balance.make, name="balance-make"),
    path("panels/<uuid:pk>/balance/back/<str:facts>/", balance.back, name="balance-back"),
    path("panels/<uuid:pk>/edit/", panels.edit, name="panel-edit"),
    path("panels/<uuid:pk>/retire/", panels.retire, name="panel-retire"),
    path("panels/<uuid:pk>/record/", record.record, name="panel-record"),
    path("panels/<uuid:pk>/readings/", readings.page, name="readings"),
    path("panels/<uuid:pk>/schedule.csv", schedule.export, name="panel-export"),
    path("panels/schedule-example.csv", schedule.example, name="panel-import-example"),
    path("panels/<uuid:pk>/import/", schedule.upload, name="panel-import"),
    path(
        "panels/<uuid:pk>/import/<uuid:list_id>/",
        schedule.preview,
        name="panel-import-preview",
    ),
    path(
        "panels/<uuid:pk>/import/<uuid:list_id>/take/",
        schedule.take,
        name="panel-import-take",
    ),
    path(
        "panels/<uuid:pk>/undo/<uuid:circuit_id>/<int:rev>/",
        circuits.take_back,
        name="circuit-undo",
    ),
    path("circuits/<uuid:pk>/", circuits.circuit, name="circuit"),
    path("circuits/<uuid:pk>/remove/", circuits.remove, name="circuit-remove"),
    path("circuits/<uuid:pk>/conductor/", conductors.of_circuit, name="circuit-conductor"),
    path("conductors/", conductors.by_itself, name="conductors"),
    path("sources/<uuid:pk>/", sources.source, name="source"),
    path("sources/<uuid:pk>/remove/", sources.remove, name="source-remove"),
    path("readings/<uuid:pk>/remove/", readings.remove, name="reading-remove"),
    path("", include("panels.directory_urls")),
    path("", include("panels.load_urls")),
    path("", include("panels.tree_urls")),
]
