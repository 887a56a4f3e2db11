"""The papers of a directory: made from the revision as issued, kept until its look changes."""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Callable, Sequence
from itertools import pairwise

from django.conf import settings
from django.core.cache import cache
from django.urls import reverse
from django.utils import formats, translation
from django.utils.translation import gettext as _

from contractor.errors import Refused
from contractor.models import CustomerLink, Person, Site
from contractor.queries.links import standing_link
from panels.directory import changes, content, paper
from panels.directory.paper import Issue, Sheet
from panels.models import DirectoryRevision, Panel
from panels.services.directory import recorded

KEPT_FOR = 30 * 24 * 3600
ISSUES_SHOWN = 5


def letter(revision: DirectoryRevision, *, now: dt.datetime) -> bytes:
    """The revision as a letter page (PDF)."""
    sheet = sheet_of(revision, now=now)
    made_at = revision.issued_at
    return _kept("letter", [revision], [sheet], lambda: paper.letter([sheet], made_at=made_at))


def card(revision: DirectoryRevision, *, now: dt.datetime) -> bytes:
    """The revision as a card for the panel door (PDF)."""
    sheet = sheet_of(revision, now=now)
    made_at = revision.issued_at
    return _kept("card", [revision], [sheet], lambda: paper.card(sheet, made_at=made_at))


def picture(revision: DirectoryRevision, *, now: dt.datetime) -> bytes:
    """The letter page as SVG, for the screen."""
    sheet = sheet_of(revision, now=now)
    return _kept("picture", [revision], [sheet], lambda: paper.picture(sheet))


def home(revisions: Sequence[DirectoryRevision], *, now: dt.datetime) -> bytes:
    """A letter page for each panel of a home (PDF). Raises Refused when none was issued."""
    if not revisions:
        raise Refused("not_issued", _("No directory of this site has been issued yet."))
    sheets = [sheet_of(revision, now=now) for revision in revisions]
    made_at = max(revision.issued_at for revision in revisions)
    return _kept("home", revisions, sheets, lambda: paper.letter(sheets, made_at=made_at))


def preview(panel: Panel, *, by: Person, now: dt.datetime) -> bytes:
    """The letter page as the record stands now, marked as not issued (SVG)."""
    today = _day(panel.site, now)
    draft = Issue(number="–", date=today, by=by.name, change=_("not issued"))
    address = door_address(panel, now=now)
    sheet = Sheet(directory=recorded(panel), issues=(draft,), address=address, draft=True)
    return paper.picture(sheet)


def sheet_of(revision: DirectoryRevision, *, now: dt.datetime) -> Sheet:
    """The revision with its revision block and the address of its live page."""
    return Sheet(
        directory=content.from_plain(revision.content),
        issues=_issues(revision),
        address=door_address(revision.panel, now=now),
    )


def door_address(panel: Panel, *, now: dt.datetime) -> str:
    """Where the code on the door leads; empty when its link has run out or was taken back."""
    link = standing_link(
        site=panel.site, purpose=CustomerLink.Purpose.DOOR, subject=panel.pk, now=now
    )
    return settings.SITE_URL + reverse("customer-page", args=[link.token]) if link else ""


def _issues(revision: DirectoryRevision) -> tuple[Issue, ...]:
    """The revision block: this revision and those before it, newest first."""
    earlier = revision.panel.revisions.filter(number__lte=revision.number)
    rows = list(earlier.select_related("issued_by").order_by("-number")[: ISSUES_SHOWN + 1])
    told = [_issue(newer, _changed(older, newer)) for newer, older in pairwise(rows)]
    if rows[-1].number == 1:
        told.append(_issue(rows[-1], _("First issue")))
    return tuple(told[:ISSUES_SHOWN])


def _changed(older: DirectoryRevision, newer: DirectoryRevision) -> str:
    was, now = content.from_plain(older.content), content.from_plain(newer.content)
    return changes.places(changes.changes(was, now))


def _issue(revision: DirectoryRevision, change: str) -> Issue:
    return Issue(
        number=str(revision.number),
        date=_day(revision.panel.site, revision.issued_at),
        by=revision.issued_by.name,
        change=change,
    )


def _day(site: Site, moment: dt.datetime) -> str:
    return formats.date_format(moment.astimezone(site.zone), "DATE_FORMAT")


def _kept(
    kind: str,
    revisions: Sequence[DirectoryRevision],
    sheets: Sequence[Sheet],
    make: Callable[[], bytes],
) -> bytes:
    """Made once per revision, address, look and language; the cache may lose it at any time."""
    parts = [kind, paper.look(), translation.get_language() or ""]
    parts += [str(revision.pk) for revision in revisions]
    parts += [sheet.address for sheet in sheets]
    key = "paper:" + hashlib.sha256("\n".join(parts).encode()).hexdigest()
    found: bytes | None = cache.get(key)
    if found is None:
        found = make()
        cache.set(key, found, KEPT_FOR)
    return found
