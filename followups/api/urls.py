"""The API calls of the follow-up room."""

from django.urls import path

from followups.api.callbacks import CallbackList, OneCallback
from followups.api.replies import ReplyList

urlpatterns = [
    path("callbacks/", CallbackList.as_view(), name="api-callbacks"),
    path("callbacks/<uuid:pk>/", OneCallback.as_view(), name="api-callback"),
    path("replies/", ReplyList.as_view(), name="api-replies"),
]
