"""The addresses of sending, of what was sent, and of its pieces."""

from django.urls import path

import tasks.urls  # noqa: F401 (dates in addresses: it registers <day:…>)
from evidence.reminders import views
from evidence.submissions.views import deleting, nonsubmissions, other_children, who_looked
from evidence.uploads.tus import views as tus
from evidence.uploads.views import moving, phone, pieces, posting, sending, sent, turning

app_name = "evidence"
urlpatterns = [
    path("children/<int:child_pk>/send/<day:date>/", sending.send, name="send"),
    path(
        "children/<int:child_pk>/could-not/<day:date>/", nonsubmissions.could_not, name="could-not"
    ),
    path(
        "children/<int:child_pk>/could-not/<day:date>/undo/",
        nonsubmissions.could_after_all,
        name="could-not-undo",
    ),
    path("children/<int:child_pk>/post/", posting.post_latest, name="post-latest"),
    path("children/<int:child_pk>/post/<day:date>/", posting.post, name="post"),
    path("send/uploads/", tus.uploads, name="uploads"),
    path("send/uploads/<str:token>/", tus.upload, name="upload"),
    path("sw.js", phone.service_worker, name="service-worker"),
    path("no-line/", phone.no_line, name="no-line"),
    path("reminders/", views.reminders, name="reminders"),
    path("reminders/here/", views.add_place, name="reminders-here"),
    path("reminders/not-here/", views.remove_place, name="reminders-not-here"),
    path("reminders/off/", views.stop_all, name="reminders-off"),
    path("reminders/stop/<str:token>/", views.stop, name="reminders-stop"),
    path("sent/", sent.sent, name="sent"),
    path("sent/<str:token>/", sent.submission, name="submission"),
    path("sent/<str:token>/more/", sending.send_more, name="send-more"),
    path("sent/<str:token>/withdraw/", sent.withdraw, name="withdraw"),
    path("sent/<str:token>/looked/", who_looked.at_work, name="looked"),
    path("sent/<str:token>/ask-delete/", deleting.ask_delete, name="ask-delete"),
    path("children/<int:child_pk>/looked/", who_looked.at_child, name="looked-child"),
    path("work/<int:work_pk>/data/", deleting.letting_go, name="letting-go"),
    path("work/<int:work_pk>/data/hold/", deleting.hold, name="work-hold"),
    path("work/<int:work_pk>/data/delete/", deleting.delete, name="work-delete"),
    path(
        "pieces/<str:token>/shows-others/", other_children.shows_others, name="piece-shows-others"
    ),
    path("pieces/<str:token>/others/", other_children.name_others, name="piece-others"),
    path("pieces/<str:token>/in-class/", other_children.in_class, name="piece-in-class"),
    path("pieces/<str:token>/state/", pieces.piece_state, name="piece-state"),
    path("pieces/<str:token>/turn/", turning.turn, name="piece-turn"),
    path("pieces/<str:token>/move/", moving.move, name="piece-move"),
    path("pieces/<str:token>/remove/", pieces.remove, name="piece-remove"),
    path("pieces/<str:token>/<str:role>/", pieces.piece_file, name="piece"),
]
