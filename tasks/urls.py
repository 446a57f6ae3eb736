"""The addresses of planning, and of the cards families read."""

from django.urls import path, register_converter

from tasks.cards.views import cards, kinds, number_words
from tasks.days import DayInAddress
from tasks.lessons import views as lessons
from tasks.plans.views import actions, by_hand, groups, pages, parts
from tasks.printing import views
from tasks.sequences.views import actions as sequence_actions
from tasks.sequences.views import group_versions
from tasks.sequences.views import pages as sequences

register_converter(DayInAddress, "day")

app_name = "tasks"
DAY = "classes/<int:class_pk>/plan/<day:date>/"
PART = f"{DAY}parts/<int:task_pk>/"
SEQUENCE = "classes/<int:class_pk>/sequences/<int:sequence_pk>/"
GROUP = "classes/<int:class_pk>/groups/<int:group_pk>/"
urlpatterns = [
    path("classes/<int:class_pk>/plan/", pages.plan_week, name="plan-week"),
    path(DAY, pages.plan_day, name="plan-day"),
    path(f"{DAY}preview/", pages.plan_preview, name="plan-preview"),
    path(f"{DAY}in-class/", lessons.in_class, name="in-class"),
    path(f"{DAY}draft/", actions.draft_around, name="plan-draft"),
    path(f"{DAY}draft-like-before/", actions.draft_like, name="plan-draft-like"),
    path(f"{DAY}one-step-on/", actions.step_on, name="plan-step-on"),
    path(f"{DAY}words/", actions.reword_day, name="plan-reword"),
    path(f"{DAY}order/", actions.arrange_day, name="plan-arrange"),
    path(f"{DAY}set/", actions.set_day, name="plan-set"),
    path(f"{DAY}take-back/", actions.take_back, name="plan-take-back"),
    path(f"{DAY}put-back/", actions.put_back, name="plan-put-back"),
    path(f"{DAY}add/", parts.add_part, name="part-add"),
    path(f"{PART}change/", parts.change_part, name="part-change"),
    path(f"{PART}numbers/", by_hand.type_numbers, name="part-numbers"),
    path(f"{PART}own-question/", by_hand.write_own, name="part-own"),
    path(f"{PART}own-question/<int:position>/out/", by_hand.take_out_own, name="part-own-out"),
    path("classes/<int:class_pk>/own-questions/drawn/", by_hand.draw_own, name="own-drawn"),
    path(f"{PART}own-question/kept/<int:own_pk>/remove/", by_hand.remove_own, name="own-remove"),
    path(f"{PART}words/", parts.reword_part, name="part-reword"),
    path(f"{PART}redraw/", parts.redraw_part, name="part-redraw"),
    path(f"{PART}redraw/<int:position>/", parts.redraw_prompt, name="prompt-redraw"),
    path(f"{PART}lock/", parts.lock_part, name="part-lock"),
    path(f"{PART}for-groups/", parts.for_groups, name="part-for-groups"),
    path(f"{PART}remove/", parts.remove_part, name="part-remove"),
    path("classes/<int:class_pk>/sequences/new/", sequences.new_sequence, name="sequence-new"),
    path(SEQUENCE, sequences.sequence, name="sequence"),
    path(f"{SEQUENCE}swap/", sequence_actions.swap, name="sequence-swap"),
    path(f"{SEQUENCE}lock/<day:date>/", sequence_actions.lock_day, name="sequence-lock-day"),
    path(
        f"{SEQUENCE}lock/<day:date>/<slug:part>/",
        sequence_actions.lock_part,
        name="sequence-lock-part",
    ),
    path(f"{SEQUENCE}redraw/", sequence_actions.redraw_rest, name="sequence-redraw"),
    path(f"{SEQUENCE}set/", sequence_actions.set_all, name="sequence-set"),
    path(f"{SEQUENCE}throw-away/", sequence_actions.throw_away, name="sequence-throw-away"),
    path(f"{SEQUENCE}bring-back/", sequence_actions.bring_back, name="sequence-bring-back"),
    path("classes/<int:class_pk>/groups/", groups.groups, name="groups"),
    path("classes/<int:class_pk>/groups/fill-in/", group_versions.fill_in, name="groups-fill-in"),
    path(
        "classes/<int:class_pk>/groups/fill-in/undo/",
        group_versions.undo,
        name="groups-fill-in-undo",
    ),
    path(GROUP, groups.group, name="group"),
    path(f"{GROUP}remove/", groups.remove_group, name="group-remove"),
    path("kinds/", kinds.kinds, name="kinds"),
    path("kinds/<slug:name>/", kinds.kind, name="kind"),
    path("classes/<int:class_pk>/print/", views.print_page, name="print"),
    path("classes/<int:class_pk>/print/sheets/", views.print_pdf, name="print-pdf"),
    path("number-words/", number_words.number_words, name="number-words"),
    path("today/", cards.today, name="today"),
    path("children/<int:child_pk>/card/<day:date>/", cards.card, name="card"),
    path("children/<int:child_pk>/card/<day:date>/print/", views.card_print, name="card-print"),
]
