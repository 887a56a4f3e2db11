"""The OpenAPI document: every call, what it takes, what it answers, how it refuses."""

from __future__ import annotations

from drf_spectacular.utils import extend_schema
from drf_spectacular.views import SpectacularJSONAPIView
from rest_framework.permissions import AllowAny


@extend_schema(exclude=True)
class DocumentView(SpectacularJSONAPIView):
    """Open to anyone: it holds no secret and no row."""

    authentication_classes = ()
    permission_classes = (AllowAny,)
