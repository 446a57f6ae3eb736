"""The addresses of looking at what came in, of the list it is in, and of goals as data."""

from django.urls import path

from assessment.goals.views import class_goals, goal_sets, statements
from assessment.looks.another_child import views as another_child
from assessment.looks.views import lead_marks, looking, phrases, queue, voice_replies
from assessment.progress.views import not_heard_from

CLASS, LOOK = "classes/<int:class_pk>/", "look/<str:token>/"
SET = "goal-sets/<int:set_pk>/"
STATEMENT = f"{SET}statements/<int:goal_pk>/"
urlpatterns = [
    path(f"{CLASS}look/", queue.queue_page, name="queue"),
    path(f"{CLASS}look/together/", queue.reply_to_ticked, name="together"),
    path(f"{CLASS}look/together/undo/", queue.undo_ticked, name="together-undo"),
    path(LOOK, looking.look, name="look"),
    path(f"{LOOK}undo/", looking.undo, name="undo"),
    path(f"{LOOK}take-back/", looking.take_back, name="take-back"),
    path("look/placings/<int:placement_pk>/undo/", another_child.undo, name="placing-undo"),
    path("look/pieces/<str:token>/another-child/", another_child.place, name="piece-place"),
    path(f"{LOOK}mark/", lead_marks.mark, name="mark"),
    path(f"{LOOK}mark/settle/", lead_marks.settle_mark, name="mark-settle"),
    path(f"{LOOK}mark/open/", lead_marks.open_mark, name="mark-open"),
    path("marks/", lead_marks.marks, name="marks"),
    path(f"{LOOK}voice/", voice_replies.record, name="voice-record"),
    path("voices/<str:token>/", voice_replies.hear, name="voice"),
    path("voices/<str:token>/state/", voice_replies.state, name="voice-state"),
    path("voices/<str:token>/take-back/", voice_replies.take, name="voice-take-back"),
    path("voices/<str:token>/put-back/", voice_replies.give, name="voice-put-back"),
    path(f"{CLASS}not-heard-from/", not_heard_from.silence, name="not-heard-from"),
    path("children/<int:child_pk>/calls/", not_heard_from.note_call, name="call-add"),
    path("calls/<int:note_pk>/remove/", not_heard_from.remove_call, name="call-remove"),
    path("phrases/", phrases.phrases, name="phrases"),
    path("phrases/start/", phrases.start, name="phrase-start"),
    path("phrases/put-back/", phrases.undo_remove, name="phrase-put-back"),
    path("phrases/<int:phrase_pk>/", phrases.phrase, name="phrase"),
    path("phrases/<int:phrase_pk>/move/", phrases.move, name="phrase-move"),
    path("phrases/<int:phrase_pk>/remove/", phrases.remove, name="phrase-remove"),
    path(f"{CLASS}goals/choose/", class_goals.choose, name="class-goals"),
    path("goal-sets/", goal_sets.goal_sets, name="goal-sets"),
    path("goal-sets/bring-in/", goal_sets.bring_in, name="goal-set-bring-in"),
    path(SET, goal_sets.goal_set, name="goal-set"),
    path(f"{SET}accept/", goal_sets.accept_draft, name="goal-set-accept"),
    path(f"{SET}throw-away/", goal_sets.throw_away, name="goal-set-throw-away"),
    path(f"{SET}put-away/", goal_sets.put_away, name="goal-set-put-away"),
    path(f"{SET}bring-back/", goal_sets.bring_back, name="goal-set-bring-back"),
    path(f"{SET}case.json", goal_sets.as_case, name="goal-set-case"),
    path(f"{SET}kinds/", statements.kinds, name="goal-set-kinds"),
    path(STATEMENT, statements.statement, name="goal-statement"),
    path(f"{STATEMENT}retire/", statements.retire, name="goal-retire"),
    path(f"{STATEMENT}bring-back/", statements.bring_back, name="goal-bring-back"),
]
