"""The API calls of the follow-up room."""

from django.urls import path

from followups.api import callbacks, replies

urlpatterns = [
    path("callbacks", callbacks.CallbacksView.as_view(), name="api-callbacks"),
    path("callbacks/<uuid:pk>", callbacks.CallbackView.as_view(), name="api-callback"),
    path("replies", replies.RepliesView.as_view(), name="api-replies"),
]
