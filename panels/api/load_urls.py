"""The API calls of loads and load calculations."""

from django.urls import path

from panels.api import load, loads, meter, shop

urlpatterns = [
    path("sites/<uuid:pk>/home", loads.HomeView.as_view(), name="api-home"),
    path("sites/<uuid:pk>/shop", shop.ShopView.as_view(), name="api-shop"),
    path("sites/<uuid:pk>/fit", shop.FitView.as_view(), name="api-fit"),
    path("sites/<uuid:pk>/loads", loads.LoadsView.as_view(), name="api-loads"),
    path("loads/<uuid:pk>", loads.LoadView.as_view(), name="api-load"),
    path("calculations/preview", load.PreviewView.as_view(), name="api-calculation-preview"),
    path("sites/<uuid:pk>/calculations", load.CalculationsView.as_view(), name="api-calculations"),
    path("calculations/<uuid:pk>", load.CalculationView.as_view(), name="api-calculation"),
    path("sites/<uuid:pk>/meter", meter.MeterFiles.as_view(), name="api-meter-files"),
    path("sites/<uuid:pk>/meter/year", meter.MeterYear.as_view(), name="api-meter-year"),
    path("meter/<uuid:pk>", meter.MeterFile.as_view(), name="api-meter-file"),
]
