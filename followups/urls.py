"""The pages of the follow-up room."""

from django.urls import path

from followups.views import answer, callbacks, messages, praise, replies, stop, watch

urlpatterns = [
    path("answer/<str:token>/", answer.page, name="answer"),
    path("answer/<str:token>/sent/", answer.sent, name="answer-sent"),
    path("stop/<str:token>/", stop.page, name="stop"),
    path("callbacks/", callbacks.index, name="callbacks"),
    path("callbacks/new/", callbacks.new, name="callback-new"),
    path("callbacks/<uuid:pk>/", callbacks.one, name="callback"),
    path("callbacks/<uuid:pk>/book/", callbacks.book, name="callback-book"),
    path("callbacks/<uuid:pk>/close/", callbacks.close, name="callback-close"),
    path("callbacks/<uuid:pk>/reopen/", callbacks.reopen, name="callback-reopen"),
    path("replies/", replies.index, name="replies"),
    path("replies/<uuid:pk>/", replies.one, name="reply"),
    path("replies/<uuid:pk>/waiting/", replies.waiting, name="reply-waiting"),
    path("replies/<uuid:pk>/pass-on/", replies.pass_on, name="reply-pass-on"),
    path("replies/photos/<uuid:pk>/", replies.photo, name="reply-photo"),
    path("messages/", messages.index, name="messages"),
    path("messages/<uuid:pk>/", messages.one, name="message"),
    path("messages/<uuid:pk>/<slug:name>/", messages.act, name="message-act"),
    path("thanks/", praise.index, name="thanks"),
    path("thanks/read/", praise.read, name="thanks-read"),
    path("jobs/<uuid:pk>/praise/", praise.of_job, name="job-praise"),
    path("watch/", watch.page, name="watch"),
]
