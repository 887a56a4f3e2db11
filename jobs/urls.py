"""The pages of the jobs room."""

from django.urls import URLPattern, URLResolver, include, path, register_converter

from jobs.views import close_out_list, inspections, jobs, kinds, permits, planning, rules, visits
from jobs.views import week as week_page


class Way:
    """Which way a row is moved among its neighbours."""

    regex = "earlier|later"

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value


register_converter(Way, "way")

the_jobs = [
    path("jobs/", jobs.jobs, name="jobs"),
    path("jobs/new/", jobs.job_new, name="job-new"),
    path("jobs/<uuid:pk>/", jobs.job, name="job"),
    path("jobs/<uuid:pk>/change/", jobs.job_change, name="job-change"),
    path("jobs/<uuid:pk>/cancel/", jobs.job_cancel, name="job-cancel"),
    path("jobs/<uuid:pk>/reinstate/", jobs.job_reinstate, name="job-reinstate"),
    path("jobs/<uuid:pk>/visits/new/", visits.visit_new, name="visit-new"),
    path("jobs/<uuid:pk>/permits/new/", permits.permit_new, name="permit-new"),
    path("jobs/<uuid:pk>/inspections/new/", inspections.inspection_new, name="inspection-new"),
    path("jobs/<uuid:pk>/close-out-list/", close_out_list.close_out_list, name="close-out-list"),
    path("jobs/<uuid:pk>/close-out-list/new/", close_out_list.line_new, name="line-new"),
    path("close-out-lines/<uuid:pk>/", close_out_list.line_change, name="line-change"),
    path("close-out-lines/<uuid:pk>/remove/", close_out_list.line_remove, name="line-remove"),
    path("close-out-lines/<uuid:pk>/<way:way>/", close_out_list.line_reorder, name="line-reorder"),
]

the_visits = [
    path("week/", week_page.week, name="week"),
    path("visits/<uuid:pk>/plan/", planning.visit_plan, name="visit-plan"),
    path("visits/<uuid:pk>/unplan/", planning.visit_unplan, name="visit-unplan"),
    path("visits/<uuid:pk>/restore/", planning.visit_restore, name="visit-restore"),
    path("visits/<uuid:pk>/change/", visits.visit_change, name="visit-change"),
    path("visits/<uuid:pk>/promise/", visits.visit_promise, name="visit-promise"),
    path("visits/<uuid:pk>/cancel/", visits.visit_cancel, name="visit-cancel"),
    path("visits/<uuid:pk>/reinstate/", visits.visit_reinstate, name="visit-reinstate"),
    path("visits/<uuid:pk>/remove/", visits.visit_remove, name="visit-remove"),
    path("visits/<uuid:pk>/move/<way:way>/", visits.visit_reorder, name="visit-reorder"),
    path("visits/<uuid:pk>/holds/new/", visits.hold_new, name="hold-new"),
    path("holds/<int:pk>/", visits.hold_change, name="hold-change"),
    path("holds/<int:pk>/release/", visits.hold_release, name="hold-release"),
    path("holds/<int:pk>/again/", visits.hold_again, name="hold-again"),
    path("holds/<int:pk>/remove/", visits.hold_remove, name="hold-remove"),
]

the_authority = [
    path("permits/", permits.permits, name="permits"),
    path("permits/<int:pk>/applied/", permits.permit_apply, name="permit-apply"),
    path("permits/<int:pk>/issued/", permits.permit_issue, name="permit-issue"),
    path("permits/<int:pk>/extended/", permits.permit_extend, name="permit-extend"),
    path("permits/<int:pk>/finaled/", permits.permit_final, name="permit-final"),
    path("permits/<int:pk>/take-back/", permits.permit_take_back, name="permit-take-back"),
    path("permits/<int:pk>/reopen/", permits.permit_reopen, name="permit-reopen"),
    path("permits/<int:pk>/cancel/", permits.permit_cancel, name="permit-cancel"),
    path("inspections/", inspections.inspections, name="inspections"),
    path("inspections/<int:pk>/", inspections.inspection_change, name="inspection-change"),
    path(
        "inspections/<int:pk>/requested/",
        inspections.inspection_request,
        name="inspection-request",
    ),
    path("inspections/<int:pk>/result/", inspections.inspection_result, name="inspection-result"),
    path(
        "inspections/<int:pk>/take-back/",
        inspections.inspection_take_back,
        name="inspection-take-back",
    ),
    path(
        "inspections/<int:pk>/not-requested/",
        inspections.inspection_unrequest,
        name="inspection-unrequest",
    ),
    path("inspections/<int:pk>/cancel/", inspections.inspection_cancel, name="inspection-cancel"),
]

the_kinds = [
    path("kinds/", kinds.kinds, name="kinds"),
    path("kinds/new/", kinds.kind_new, name="kind-new"),
    path("kinds/<int:pk>/", kinds.kind, name="kind"),
    path("kinds/<int:pk>/change/", kinds.kind_change, name="kind-change"),
    path("kinds/<int:pk>/remove/", kinds.kind_remove, name="kind-remove"),
    path("kinds/<int:pk>/add/<slug:sort>/", kinds.part_new, name="part-new"),
    path("kinds/parts/<slug:sort>/<int:pk>/", kinds.part_change, name="part-change"),
    path("kinds/parts/<slug:sort>/<int:pk>/remove/", kinds.part_remove, name="part-remove"),
    path("kinds/parts/<slug:sort>/<int:pk>/<way:way>/", kinds.part_reorder, name="part-reorder"),
    path("planning-rules/", rules.planning_rules, name="planning-rules"),
    path("planning-rules/supervision/new/", rules.supervision_new, name="supervision-new"),
    path(
        "planning-rules/supervision/<int:pk>/",
        rules.supervision_change,
        name="supervision-change",
    ),
    path(
        "planning-rules/supervision/<int:pk>/remove/",
        rules.supervision_remove,
        name="supervision-remove",
    ),
]

urlpatterns: list[URLPattern | URLResolver] = [
    *the_jobs,
    *the_visits,
    *the_authority,
    *the_kinds,
    path("", include("jobs.field_urls")),
]
