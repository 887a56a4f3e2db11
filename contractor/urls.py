"""Every address of the program; each room lists its own."""

from django.urls import include, path

urlpatterns = [
    path("", include("contractor.pages")),
    path("", include("panels.urls")),
    path("", include("jobs.urls")),
    path("", include("followups.urls")),
    path("api/v1/", include("contractor.api.urls")),
]
handler400 = "contractor.views.errors.bad_request"
handler403 = "contractor.views.errors.forbidden"
handler404 = "contractor.views.errors.not_found"
handler500 = "contractor.views.errors.broken"
