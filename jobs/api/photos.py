"""Photos and the signature over the API: sent once however often, described, taken back."""

from __future__ import annotations

import uuid
from typing import Any

from django.http.response import HttpResponseBase
from django.utils import timezone
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.access import fetch, visible
from contractor.api.calls import Call, named
from contractor.api.moments import MomentField
from contractor.api.pages import ByKey
from contractor.api.revisions import base_rev, with_etag
from contractor.api.schema import IF_MATCH, ProblemSerializer
from contractor.models import Person
from contractor.views.pictures import picture_response
from jobs.models import CloseOutLine, Job, Photo, Signature, Visit
from jobs.services import photos, signing
from panels.models import Panel

STANDING = Photo.objects.standing()


class PhotoOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    rev = serializers.IntegerField()
    visit = serializers.UUIDField(source="visit_id")
    line = serializers.UUIDField(source="line_id", allow_null=True)
    panel = serializers.UUIDField(source="panel_id", allow_null=True)
    caption = serializers.CharField()
    sha256 = serializers.CharField(help_text="Of the picture as it is kept.")
    width = serializers.IntegerField()
    height = serializers.IntegerField()
    bytes = serializers.IntegerField()
    taken_by = serializers.UUIDField(source="taken_by_id")
    taken_at = serializers.DateTimeField()


class PhotoWords(serializers.Serializer[Any]):
    caption = serializers.CharField(max_length=120, required=False, allow_blank=True)
    line = serializers.UUIDField(required=False, allow_null=True)
    panel = serializers.UUIDField(required=False, allow_null=True)


class PhotoInput(PhotoWords):
    id = serializers.UUIDField(required=False, help_text="Made by the device; repeats are safe.")
    photo = serializers.FileField(help_text="JPEG, PNG or WebP; told by its contents.")
    taken_at = MomentField(required=False)


class SignatureOutput(serializers.Serializer[Any]):
    id = serializers.UUIDField()
    rev = serializers.IntegerField()
    job = serializers.UUIDField(source="job_id")
    visit = serializers.UUIDField(source="visit_id")
    signed_name = serializers.CharField()
    strokes = serializers.JSONField(allow_null=True)
    by_typed_name = serializers.BooleanField()
    absent_reason = serializers.CharField()
    taken_by = serializers.UUIDField(source="taken_by_id")
    signed_at = serializers.DateTimeField()


class SignatureInput(serializers.Serializer[Any]):
    """A name with `strokes` ({"width", "height", "strokes": [[[x, y], ...], ...]}), a name that
    counts as typed, or `absent_reason`."""

    id = serializers.UUIDField(required=False, help_text="Made by the device; repeats are safe.")
    visit = serializers.UUIDField()
    signed_name = serializers.CharField(max_length=120, required=False, allow_blank=True)
    strokes = serializers.JSONField(required=False, allow_null=True)
    by_typed_name = serializers.BooleanField(required=False)
    absent_reason = serializers.CharField(max_length=200, required=False, allow_blank=True)


class VisitPhotos(Call):
    parser_classes = (MultiPartParser,)

    @extend_schema(
        operation_id="visit_photos_list",
        parameters=ByKey.parameters(),
        responses=ByKey.page_of(PhotoOutput),
    )
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        visit = fetch(Visit, self.person, pk=pk)
        return self.page_of(visible(STANDING.filter(visit=visit), self.person), PhotoOutput)

    @extend_schema(
        operation_id="visit_photos_create",
        request={"multipart/form-data": PhotoInput},
        responses={201: PhotoOutput, 200: PhotoOutput, 409: ProblemSerializer},
    )
    def post(self, request: Request, pk: uuid.UUID) -> Response:
        """Keep one photo, re-encoded without its metadata; 200 when it was sent before."""
        visit, said = fetch(Visit, self.person, pk=pk), self.said(PhotoInput)
        key = said.pop("id", None) or uuid.uuid4()
        there = Photo.objects.filter(pk=key).exists()
        photo = photos.add_photo(
            visit=visit, upload=said.pop("photo"), by=self.person, now=timezone.now(),
            photo_id=key, **rows(said, self.person),
        )  # fmt: skip
        return with_etag(PhotoOutput(photo).data, photo, 200 if there else 201)


def rows(said: dict[str, Any], person: Person) -> dict[str, Any]:
    """The line and the panel that were named, if they are there for this person."""
    found = dict(said)
    for name, model in (("line", CloseOutLine), ("panel", Panel)):
        if name in found:
            found[name] = named(model, found[name], person, field=name)
    return found


class OnePhoto(Call):
    @extend_schema(responses=PhotoOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        photo = fetch(STANDING, self.person, pk=pk)
        return with_etag(PhotoOutput(photo).data, photo)

    @extend_schema(request=PhotoWords, responses=PhotoOutput, parameters=[IF_MATCH])
    def patch(self, request: Request, pk: uuid.UUID) -> Response:
        """What it shows, which line it proves, which panel is on it."""
        photo = fetch(STANDING.select_related("line", "panel"), self.person, pk=pk)
        as_is = {"caption": photo.caption, "line": photo.line, "panel": photo.panel}
        said = {**as_is, **rows(self.said(PhotoWords), self.person)}
        photo = photos.describe_photo(
            photo=photo, by=self.person, now=timezone.now(), rev=base_rev(request), **said
        )
        return with_etag(PhotoOutput(photo).data, photo)

    @extend_schema(responses={204: None}, parameters=[IF_MATCH])
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        """Taken out of the record; PUT on `restored` puts it back."""
        photo, rev = fetch(STANDING, self.person, pk=pk), base_rev(request)
        photos.remove_photo(photo=photo, by=self.person, now=timezone.now(), rev=rev)
        return Response(status=204)


class PhotoRestored(Call):
    @extend_schema(request=None, responses=PhotoOutput)
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        photo = fetch(Photo, self.person, pk=pk)
        photo = photos.restore_photo(photo=photo, by=self.person, now=timezone.now())
        return with_etag(PhotoOutput(photo).data, photo)


class PhotoPicture(Call):
    @extend_schema(
        parameters=[OpenApiParameter("small", type=bool)],
        responses={(200, "image/jpeg"): OpenApiTypes.BINARY},
    )
    def get(self, request: Request, pk: uuid.UUID) -> HttpResponseBase:
        """The picture itself."""
        photo = fetch(Photo, self.person, pk=pk)
        small = request.query_params.get("small") in ("1", "true")
        return picture_response(photo.sha256, small=small)


class JobSignature(Call):
    @extend_schema(responses=SignatureOutput)
    def get(self, request: Request, pk: uuid.UUID) -> Response:
        found = fetch(Signature, self.person, job=pk)
        return with_etag(SignatureOutput(found).data, found)

    @extend_schema(
        request=SignatureInput,
        responses={201: SignatureOutput, 200: SignatureOutput, 412: ProblemSerializer},
    )
    def put(self, request: Request, pk: uuid.UUID) -> Response:
        """The job's one signature. Replacing another one takes If-Match with its ETag."""
        job, said = fetch(Job, self.person, pk=pk), self.said(SignatureInput)
        visit = fetch(Visit, self.person, pk=said.pop("visit"), job=job)
        there = Signature.objects.filter(job=job).exists()
        rev = base_rev(request) if "If-Match" in request.headers else None
        signature = signing.sign(
            job=job, visit=visit, by=self.person, now=timezone.now(), rev=rev,
            signature_id=said.pop("id", None), **said,
        )  # fmt: skip
        return with_etag(SignatureOutput(signature).data, signature, 200 if there else 201)

    @extend_schema(responses={204: None}, parameters=[IF_MATCH])
    def delete(self, request: Request, pk: uuid.UUID) -> Response:
        """Taken back, to be signed again."""
        found = fetch(Signature.objects.select_related("job"), self.person, job=pk)
        rev = base_rev(request)
        signing.take_back_signature(signature=found, by=self.person, rev=rev)
        return Response(status=204)
