"""How is a picture handed out? The page that asks has already decided who may see it."""

from __future__ import annotations

from django.http import Http404, HttpResponse

from contractor.services.pictures import path_of


def picture_response(sha256: str, *, small: bool = False) -> HttpResponse:
    """The picture, or 404. Its contents never change, so the browser may keep it for itself."""
    try:
        content = path_of(sha256, small=small).read_bytes()
    except (FileNotFoundError, ValueError) as error:
        raise Http404 from error
    return HttpResponse(
        content,
        content_type="image/jpeg",
        headers={
            "Cache-Control": "private, max-age=31536000, immutable",
            "Content-Disposition": f'inline; filename="{sha256[:12]}.jpg"',
            "X-Content-Type-Options": "nosniff",
        },
    )
