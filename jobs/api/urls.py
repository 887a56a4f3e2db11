"""The API calls of the jobs room."""

from django.urls import URLPattern, path

from jobs.api import close_out, field, jobs, permits, photos, visits

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
    path("visits/<uuid:pk>/arrived", field.Arrived.as_view(), name="api-visit-arrived"),
    path("visits/<uuid:pk>/left", field.Left.as_view(), name="api-visit-left"),
    path("visits/<uuid:pk>/notes", field.Notes.as_view(), name="api-visit-notes"),
    path("visits/<uuid:pk>/photos", photos.VisitPhotos.as_view(), name="api-visit-photos"),
    path("photos/<uuid:pk>", photos.OnePhoto.as_view(), name="api-photo"),
    path("photos/<uuid:pk>/picture", photos.PhotoPicture.as_view(), name="api-photo-picture"),
    path("photos/<uuid:pk>/restored", photos.PhotoRestored.as_view(), name="api-photo-restored"),
    path("jobs/<uuid:pk>/close-out", close_out.JobCloseOut.as_view(), name="api-job-close-out"),
    path("jobs/<uuid:pk>/proof", close_out.JobProof.as_view(), name="api-job-proof"),
    path("jobs/<uuid:pk>/reopened", close_out.JobReopened.as_view(), name="api-job-reopened"),
    path("jobs/<uuid:pk>/signature", photos.JobSignature.as_view(), name="api-job-signature"),
    path("close-out-lines/<uuid:pk>", close_out.Line.as_view(), name="api-line"),
    path(
        "close-out-lines/<uuid:pk>/readings",
        close_out.LineReadings.as_view(),
        name="api-line-readings",
    ),
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
