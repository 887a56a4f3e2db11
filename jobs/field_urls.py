"""The pages a technician works with."""

from __future__ import annotations

from django.urls import URLPattern, path

from jobs.views import close_out, field, photos

urlpatterns: list[URLPattern] = [
    path("day/", field.day, name="day"),
    path("visits/<uuid:pk>/", field.visit, name="visit"),
    path("visits/<uuid:pk>/here/", field.arrive, name="visit-here"),
    path("visits/<uuid:pk>/leaving/", field.leave, name="visit-leaving"),
    path("visits/<uuid:pk>/not-here/", field.not_here, name="visit-not-here"),
    path("visits/<uuid:pk>/still-here/", field.still_here, name="visit-still-here"),
    path("visits/<uuid:pk>/times/", field.times, name="visit-times"),
    path("visits/<uuid:pk>/note/", field.note, name="visit-note"),
    path("visits/<uuid:pk>/photos/", photos.add, name="photo-add"),
    path("photos/<uuid:pk>/", photos.picture, name="photo"),
    path("photos/<uuid:pk>/small/", photos.picture, {"small": True}, name="photo-small"),
    path("photos/<uuid:pk>/about/", photos.photo, name="photo-about"),
    path("photos/<uuid:pk>/remove/", photos.remove, name="photo-remove"),
    path("photos/<uuid:pk>/restore/", photos.restore, name="photo-restore"),
    path("jobs/<uuid:pk>/close-out/", close_out.close_out, name="close-out"),
    path("jobs/<uuid:pk>/close-out/close/", close_out.close, name="close-out-close"),
    path("jobs/<uuid:pk>/close-out/record/", close_out.record, name="close-out-record"),
    path("jobs/<uuid:pk>/close-out/reopen/", close_out.reopen, name="close-out-reopen"),
    path("close-out/lines/<uuid:pk>/", close_out.line, name="close-out-line"),
    path(
        "close-out/lines/<uuid:pk>/put-back/<str:facts>/",
        close_out.put_back,
        name="reading-put-back",
    ),
]
