"""The addresses of judging, and of the lead's pages over all classes."""

from django.urls import path

from assessment.converters import CHILD, CLASS
from assessment.judgements.views import (
    judgements,
    lead_overview,
    school_goals,
    school_mistakes,
    second_looks,
)

OF_CHILD = f"{CHILD}judgements/<int:period_pk>/"
SAMPLE = "school/second-looks/<int:sample_pk>"
urlpatterns = [
    path(f"{CLASS}judgements/", judgements.judgements, name="judgements"),
    path(f"{CLASS}judgements.<sheet:sheet>", judgements.judgements_taken, name="judgements-taken"),
    path(f"{CLASS}return.<sheet:sheet>", judgements.return_taken, name="return-taken"),
    path(OF_CHILD, judgements.child_judgements, name="child-judgements"),
    path(f"{OF_CHILD}lock/", judgements.judgement_locked, name="judgement-lock"),
    path(f"{OF_CHILD}unlock/", judgements.judgement_unlocked, name="judgement-unlock"),
    path(f"{OF_CHILD}undo/", judgements.judgement_undone, name="judgement-undo"),
    path("school/mistakes/", school_mistakes.school_mistakes_page, name="school-mistakes"),
    path("school/goals/", school_goals.school_goals_page, name="school-goals"),
    path("school/judgements/", lead_overview.school_judgements, name="school-judgements"),
    path("school/second-looks/", lead_overview.samples, name="samples"),
    path(f"{SAMPLE}/", lead_overview.sample, name="sample"),
    path(f"{SAMPLE}.<sheet:sheet>", lead_overview.sample_taken, name="sample-taken"),
    path("second-looks/", second_looks.second_looks, name="second-looks"),
    path("second-looks/<int:sample_pk>/", second_looks.second_look, name="second-look"),
]
