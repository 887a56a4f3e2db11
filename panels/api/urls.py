"""The API calls of the panels room."""

from django.urls import URLPattern, URLResolver, include, path

from panels.api import balance, checks, circuits, entrance, outage, panels, readings, sources

urlpatterns: list[URLPattern | URLResolver] = [
    path("panels", panels.PanelsView.as_view(), name="api-panels"),
    path("panels/<uuid:pk>", panels.PanelView.as_view(), name="api-panel"),
    path("panels/<uuid:pk>/circuits", circuits.CircuitsView.as_view(), name="api-circuits"),
    path("panels/<uuid:pk>/balance", balance.BalanceView.as_view(), name="api-panel-balance"),
    path("panels/<uuid:pk>/check", checks.CheckView.as_view(), name="api-panel-check"),
    path("panels/<uuid:pk>/readings", readings.ReadingsView.as_view(), name="api-readings"),
    path("circuits/<uuid:pk>", circuits.CircuitView.as_view(), name="api-circuit"),
    path("readings/<uuid:pk>", readings.ReadingView.as_view(), name="api-reading"),
    path("sites/<uuid:pk>/outage", outage.OutageView.as_view(), name="api-outage"),
    path("sites/<uuid:pk>/sources", sources.SourcesView.as_view(), name="api-sources"),
    path(
        "sites/<uuid:pk>/service-entrance",
        entrance.EntranceView.as_view(),
        name="api-service-entrance",
    ),
    path("sources/<uuid:pk>", sources.SourceView.as_view(), name="api-source"),
    path("", include("panels.api.load_urls")),
]
