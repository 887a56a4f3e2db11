"""Photos: sent from the camera, described, taken out and put back, and handed out."""

from __future__ import annotations

import uuid
from functools import partial
from typing import Any

from django.core.files.uploadedfile import UploadedFile
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_GET, require_POST

from contractor.access import Right, SignedIn, fetch, needs
from contractor.errors import Invalid, Refused
from contractor.keys import key_in
from contractor.notices import say
from contractor.views.pictures import picture_response
from contractor.ways_back import came_from
from jobs.forms.field import PhotoForm
from jobs.models import CloseOutLine, Photo, Visit
from jobs.services import photos
from panels.models import Panel

PHOTOS = Photo.objects.select_related("visit__job__site", "line", "panel", "taken_by")


@require_POST
@needs(Right.FIELD)
def add(request: SignedIn, pk: str) -> HttpResponse:
    """One or several; each under the id the page gave it, so that sending again adds nothing."""
    visit = fetch(Visit.objects.select_related("job"), request.user, pk=pk)
    batch = key_in(request.POST.get("batch")) or uuid.uuid4()
    files = request.FILES.getlist("photo")
    try:
        made = [
            _keep(request, visit, file, key_in(request.POST.get("id")) or uuid.uuid5(batch, str(n)))
            for n, file in enumerate(files)
        ]
        if not made:
            raise Invalid("no_photo", _("Take or choose a photo first."))
    except Refused as refused:
        if not _by_script(request):
            raise
        return HttpResponse(refused.sentence, status=refused.status, content_type="text/plain")
    if _by_script(request):
        return render(request, "jobs/field/_photo.html", {"photo": made[0]}, status=201)
    told = ngettext("The photo is kept.", "%(n)d photos are kept.", len(made))
    say(request, told % {"n": len(made)})
    return redirect(came_from(request, reverse("visit", args=[pk])))


def _keep(request: SignedIn, visit: Visit, file: UploadedFile, key: uuid.UUID) -> Photo:
    rows: dict[str, Any] = {}
    if line := key_in(request.POST.get("line")):
        rows["line"] = fetch(CloseOutLine, request.user, pk=line)
    if panel := key_in(request.POST.get("panel")):
        rows["panel"] = fetch(Panel, request.user, pk=panel)
    return photos.add_photo(
        visit=visit, upload=file, by=request.user, now=timezone.now(), photo_id=key,
        caption=request.POST.get("caption", ""), **rows,
    )  # fmt: skip


def _by_script(request: SignedIn) -> bool:
    return request.headers.get("X-Requested-With") == "photos"


@require_GET
@needs(Right.FIELD)
def picture(request: SignedIn, pk: str, *, small: bool = False) -> HttpResponse:
    photo = fetch(PHOTOS, request.user, pk=pk)
    return picture_response(photo.sha256, small=small)


@needs(Right.FIELD)
def photo(request: SignedIn, pk: str) -> HttpResponse:
    """The photo large, with what it shows."""
    found = fetch(PHOTOS.standing(), request.user, pk=pk)
    job = found.visit.job
    form = PhotoForm.of(found, job, request.POST or None)
    act = partial(photos.describe_photo, photo=found, by=request.user, now=timezone.now())
    if request.method == "POST" and form.is_valid() and form.try_to(act):
        say(request, _("Kept."))
        return redirect("visit", found.visit_id)
    trail = [
        (str(job.number), reverse("job", args=[job.pk])),
        (found.visit.name, reverse("visit", args=[found.visit_id])),
        (_("Photo"), ""),
    ]
    page = {"photo": found, "form": form, "job": job, "trail": trail}
    return render(request, "jobs/field/photo.html", page, status=422 if form.errors else 200)


@require_POST
@needs(Right.FIELD)
def remove(request: SignedIn, pk: str) -> HttpResponse:
    found = fetch(PHOTOS, request.user, pk=pk)
    photos.remove_photo(photo=found, by=request.user, now=timezone.now())
    say(request, _("The photo is taken out."), undo=reverse("photo-restore", args=[pk]))
    return redirect("visit", found.visit_id)


@require_POST
@needs(Right.FIELD)
def restore(request: SignedIn, pk: str) -> HttpResponse:
    found = fetch(PHOTOS, request.user, pk=pk)
    photos.restore_photo(photo=found, by=request.user, now=timezone.now())
    say(request, _("The photo is back."))
    return redirect(came_from(request, reverse("visit", args=[found.visit_id])))
