"""Every call of the API; each room lists its own."""

from django.urls import URLPattern, URLResolver, include, path

from contractor.api import customers, document, sites, tokens

urlpatterns: list[URLPattern | URLResolver] = [
    path("openapi.json", document.DocumentView.as_view(), name="api-document"),
    path("token", tokens.TokenView.as_view(), name="api-token"),
    path("me", tokens.MeView.as_view(), name="api-me"),
    path("me/device", tokens.ThisDeviceView.as_view(), name="api-this-device"),
    path("customers", customers.CustomersView.as_view(), name="api-customers"),
    path("customers/<uuid:pk>", customers.CustomerView.as_view(), name="api-customer"),
    path("sites", sites.SitesView.as_view(), name="api-sites"),
    path("sites/<uuid:pk>", sites.SiteView.as_view(), name="api-site"),
    path("", include("panels.api.urls")),
    path("", include("jobs.api.urls")),
    path("", include("followups.api.urls")),
]
