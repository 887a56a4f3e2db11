"""A job, its visits, and what stands in their way: permit, inspections, holds."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import DateTimeRangeField, RangeOperators
from django.contrib.postgres.indexes import GinIndex
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from contractor.history import kept
from contractor.models import Authority, Crew, FieldRecord, Person, Site
from jobs.models.kinds import JobKind, VisitNeeds, choices
from jobs.planning.words import HoldKind, InspectionState, JobState, PermitState, VisitState


@kept()
class Job(FieldRecord):
    """Work sold to a customer at a site; `number` is what people call it by."""

    number = models.PositiveIntegerField(_("job number"), unique=True)
    site = models.ForeignKey(Site, models.PROTECT, related_name="jobs")
    kind = models.ForeignKey(JobKind, models.PROTECT, related_name="jobs")
    title = models.CharField(_("what is to be done"), max_length=120)
    scope = models.TextField(_("details for the crew"), blank=True)
    state = models.CharField(max_length=10, choices=choices(JobState), default=JobState.OPEN)
    booked_by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    booked_at = models.DateTimeField()
    closed_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)
    closed_at = models.DateTimeField(null=True, blank=True)
    cancelled_because = models.CharField(_("why it was cancelled"), max_length=200, blank=True)
    callback_of = models.ForeignKey(
        "self", models.PROTECT, related_name="came_back_as", null=True, blank=True
    )

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["-number"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(state="closed", closed_at__isnull=False, closed_by__isnull=False)
                | (~Q(state="closed") & Q(closed_at__isnull=True)),
                name="closed_job_says_by_whom",
            )
        ]
        indexes: ClassVar = [
            models.Index(fields=["number"], condition=Q(state="open"), name="job_open"),
            models.Index(fields=["closed_at"], condition=Q(state="closed"), name="job_closed_when"),
            GinIndex(fields=["title"], opclasses=["gin_trgm_ops"], name="job_title_like"),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"


@kept()
class Visit(VisitNeeds, FieldRecord):
    """One trip to the site. Times are set together with the crew, by `services.assign_crew`."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    job = models.ForeignKey(Job, models.CASCADE, related_name="visits")
    state = models.CharField(
        max_length=10, choices=choices(VisitState), default=VisitState.UNPLANNED
    )
    crew = models.ForeignKey(
        Crew, models.PROTECT, related_name="visits", null=True, blank=True, verbose_name=_("crew")
    )
    starts_at = models.DateTimeField(_("starts"), null=True, blank=True)
    ends_at = models.DateTimeField(_("ends"), null=True, blank=True)
    planned_at = models.DateTimeField(_("put on the plan"), null=True, blank=True)
    promised_from = models.DateTimeField(_("promised from"), null=True, blank=True)
    promised_until = models.DateTimeField(_("promised until"), null=True, blank=True)
    arrived_at = models.DateTimeField(null=True, blank=True)
    left_at = models.DateTimeField(null=True, blank=True)
    notes = models.TextField(_("notes from the field"), blank=True)

    class Meta(FieldRecord.Meta):
        ordering: ClassVar = ["order", "starts_at"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=Q(starts_at__isnull=True, ends_at__isnull=True)
                | Q(ends_at__gt=F("starts_at")),
                name="visit_ends_after_start",
            ),
            models.CheckConstraint(
                condition=~Q(state__in=["planned", "under_way"])
                | Q(starts_at__isnull=False, crew__isnull=False),
                name="planned_visit_has_crew_and_time",
            ),
            models.CheckConstraint(
                condition=Q(promised_from__isnull=True, promised_until__isnull=True)
                | Q(promised_until__gt=F("promised_from")),
                name="promise_ends_after_start",
            ),
        ]
        indexes: ClassVar = [
            models.Index(fields=["starts_at"], name="visit_by_start"),
            models.Index(fields=["job"], condition=Q(state="unplanned"), name="visit_unplanned"),
        ]

    def __str__(self) -> str:
        return f"{self.job.number} {self.name}"


@kept()
class Assignment(models.Model):
    """One person on one visit; the database refuses a second one at the same time."""

    visit = models.ForeignKey(Visit, models.CASCADE, related_name="assignments")
    person = models.ForeignKey(Person, models.PROTECT, related_name="assignments")
    during = DateTimeRangeField()

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["visit", "person"], name="once_on_a_visit"),
            ExclusionConstraint(
                name="one_place_at_a_time",
                expressions=[("person", RangeOperators.EQUAL), ("during", RangeOperators.OVERLAPS)],
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} on {self.visit}"


@kept()
class Permit(models.Model):
    job = models.ForeignKey(Job, models.CASCADE, related_name="permits")
    authority = models.ForeignKey(
        Authority, models.PROTECT, related_name="permits", null=True, blank=True,
        verbose_name=_("authority having jurisdiction"),
    )  # fmt: skip
    number = models.CharField(_("permit number"), max_length=40, blank=True)
    state = models.CharField(
        max_length=10, choices=choices(PermitState), default=PermitState.NEEDED
    )
    applied_on = models.DateField(_("applied on"), null=True, blank=True)
    issued_on = models.DateField(_("issued on"), null=True, blank=True)
    expires_on = models.DateField(_("good until"), null=True, blank=True)
    extended_until = models.DateField(_("extended by the authority until"), null=True, blank=True)
    finaled_on = models.DateField(_("finaled on"), null=True, blank=True)

    class Meta:
        ordering: ClassVar = ["id"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=~Q(state="issued") | Q(issued_on__isnull=False) & ~Q(number=""),
                name="issued_permit_has_number_and_day",
            )
        ]
        indexes: ClassVar = [
            models.Index(fields=["expires_on"], condition=Q(state="issued"), name="permit_expiring")
        ]

    def __str__(self) -> str:
        return self.number or str(self.get_state_display())


@kept()
class Inspection(models.Model):
    job = models.ForeignKey(Job, models.CASCADE, related_name="inspections")
    after = models.ForeignKey(
        Visit, models.SET_NULL, related_name="inspections", null=True, blank=True
    )
    name = models.CharField(_("inspection"), max_length=60)
    order = models.PositiveSmallIntegerField(default=1)
    state = models.CharField(
        max_length=10, choices=choices(InspectionState), default=InspectionState.DUE
    )
    due_days = models.PositiveSmallIntegerField(_("due within days of the visit"), default=5)
    due_on = models.DateField(_("due by"), null=True, blank=True)
    again_of = models.ForeignKey(
        "self", models.PROTECT, related_name="again", null=True, blank=True,
        verbose_name=_("repeats the failed one"),
    )  # fmt: skip
    window_from = models.DateTimeField(_("inspector comes from"), null=True, blank=True)
    window_until = models.DateTimeField(_("inspector comes until"), null=True, blank=True)
    inspector = models.CharField(_("inspector"), max_length=80, blank=True)
    done_on = models.DateField(_("inspected on"), null=True, blank=True)
    findings = models.TextField(_("what the inspector found"), blank=True)

    class Meta:
        ordering: ClassVar = ["order", "id"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=~Q(state__in=["passed", "failed"]) | Q(done_on__isnull=False),
                name="inspected_on_a_day",
            ),
            models.CheckConstraint(
                condition=Q(window_until__isnull=True) | Q(window_until__gt=F("window_from")),
                name="inspector_leaves_after_coming",
            ),
        ]
        indexes: ClassVar = [
            models.Index(
                fields=["due_on"],
                condition=Q(state__in=["due", "requested"]),
                name="inspection_waiting",
            )
        ]

    def __str__(self) -> str:
        return self.name


@kept()
class Hold(models.Model):
    """Something that must be so before the visit may start."""

    visit = models.ForeignKey(Visit, models.CASCADE, related_name="holds")
    kind = models.CharField(max_length=12, choices=choices(HoldKind))
    label = models.CharField(_("what exactly"), max_length=120, blank=True)
    inspection = models.ForeignKey(
        Inspection, models.CASCADE, related_name="holds", null=True, blank=True
    )
    expected_on = models.DateField(_("expected on"), null=True, blank=True)
    released_at = models.DateTimeField(null=True, blank=True)
    released_by = models.ForeignKey(Person, models.PROTECT, related_name="+", null=True, blank=True)
    reason = models.CharField(_("why it was released"), max_length=200, blank=True)

    class Meta:
        ordering: ClassVar = ["id"]

    def __str__(self) -> str:
        return self.label or str(self.get_kind_display())


@kept()
class Override(models.Model):
    """A refusal someone insisted against, with the reason they gave."""

    visit = models.ForeignKey(Visit, models.CASCADE, related_name="overrides")
    code = models.CharField(max_length=40)
    sentence = models.TextField()
    reason = models.CharField(_("reason"), max_length=300)
    by = models.ForeignKey(Person, models.PROTECT, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering: ClassVar = ["at"]

    def __str__(self) -> str:
        return self.sentence
