"""How is a picture handed out? The page that asks has already decided who may see it."""

from __future__ import annotations

from django.http import FileResponse, Http404

from contractor.services.pictures import path_of


def picture_response(sha256: str, *, small: bool = False) -> FileResponse:
    """The picture, or 404. Its contents never change, so the browser may keep it for itself."""
    try:
        file = path_of(sha256, small=small).open("rb")
    except (FileNotFoundError, ValueError) as error:
        raise Http404 from error
    response = FileResponse(file, content_type="image/jpeg", filename=f"{sha256[:12]}.jpg")
    response["Cache-Control"] = "private, max-age=31536000, immutable"
    response["X-Content-Type-Options"] = "nosniff"
    return response
