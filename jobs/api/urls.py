"""The API calls of the jobs room."""

from django.urls import URLPattern, path

from jobs.api import jobs, permits, visits

urlpatterns: list[URLPattern] = [
    path("job-kinds", jobs.KindList.as_view(), name="api-job-kinds"),
    path("jobs", jobs.JobList.as_view(), name="api-jobs"),
    path("jobs/<uuid:pk>", jobs.OneJob.as_view(), name="api-job"),
    path("jobs/<uuid:pk>/cancelled", jobs.CancelJob.as_view(), name="api-job-cancelled"),
    path("jobs/<uuid:pk>/visits", visits.NewVisit.as_view(), name="api-job-visits"),
    path("visits", visits.VisitList.as_view(), name="api-visits"),
    path("visits/<uuid:pk>", visits.OneVisit.as_view(), name="api-visit"),
    path("visits/<uuid:pk>/plan", visits.Plan.as_view(), name="api-visit-plan"),
    path("visits/<uuid:pk>/promise", visits.Promise.as_view(), name="api-visit-promise"),
    path("holds/<int:pk>/released", visits.ReleaseHold.as_view(), name="api-hold-released"),
    path("permits", permits.PermitList.as_view(), name="api-permits"),
    path("permits/<int:pk>", permits.OnePermit.as_view(), name="api-permit"),
    path("permits/<int:pk>/applied", permits.PermitApplied.as_view(), name="api-permit-applied"),
    path("permits/<int:pk>/issued", permits.PermitIssued.as_view(), name="api-permit-issued"),
    path("permits/<int:pk>/finaled", permits.PermitFinaled.as_view(), name="api-permit-finaled"),
    path("inspections", permits.InspectionList.as_view(), name="api-inspections"),
    path("inspections/<int:pk>", permits.OneInspection.as_view(), name="api-inspection"),
    path(
        "inspections/<int:pk>/requested",
        permits.InspectionRequested.as_view(),
        name="api-inspection-requested",
    ),
    path(
        "inspections/<int:pk>/result",
        permits.InspectionResult.as_view(),
        name="api-inspection-result",
    ),
]
