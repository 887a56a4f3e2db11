"""Which revision is this edit based on? (RFC 9110, 13.1.1 If-Match; RFC 6585, 3: 428)"""

from __future__ import annotations

import re

from django.utils.translation import gettext as _
from rest_framework.request import Request
from rest_framework.response import Response

from contractor.errors import Invalid, RevisionMissing
from contractor.models import FieldRecord

STRONG = re.compile(r'^"(\d{1,9})"$')


def base_rev(request: Request) -> int:
    """The revision named in If-Match, e.g. `If-Match: "3"`.

    Raises RevisionMissing (428) without one and Invalid (422) for anything but one strong tag.
    """
    tag = request.headers.get("If-Match")
    if tag is None:
        raise RevisionMissing(
            "revision_missing",
            _("Send If-Match with the ETag of the record you changed, so no one’s work is lost."),
        )
    found = STRONG.match(tag.strip())
    if not found:
        raise Invalid(
            "revision_unreadable", _('If-Match must be one strong ETag, such as "3" in quotes.')
        )
    return int(found[1])


def with_etag(data: object, record: FieldRecord, status: int = 200) -> Response:
    """Answer with the record's ETag, so the next edit can name its base."""
    return Response(data, status=status, headers={"ETag": record.etag})
