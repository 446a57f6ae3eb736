"""The addresses of judging, and of the lead's pages over all classes."""

from django.urls import path

from assessment.addresses import CHILD, CLASS
from assessment.views import judging, school, second_looks

OF_CHILD = f"{CHILD}judgements/<int:period_pk>/"
SAMPLE = "school/second-looks/<int:sample_pk>"
urlpatterns = [
    path(f"{CLASS}judgements/", judging.judgements, name="judgements"),
    path(f"{CLASS}judgements.<sheet:sheet>", judging.judgements_taken, name="judgements-taken"),
    path(f"{CLASS}return.<sheet:sheet>", judging.return_taken, name="return-taken"),
    path(OF_CHILD, judging.child_judgements, name="child-judgements"),
    path(f"{OF_CHILD}lock/", judging.judgement_locked, name="judgement-lock"),
    path(f"{OF_CHILD}unlock/", judging.judgement_unlocked, name="judgement-unlock"),
    path(f"{OF_CHILD}undo/", judging.judgement_undone, name="judgement-undo"),
    path("school/judgements/", school.school_judgements, name="school-judgements"),
    path("school/second-looks/", school.samples, name="samples"),
    path(f"{SAMPLE}/", school.sample, name="sample"),
    path(f"{SAMPLE}.<sheet:sheet>", school.sample_taken, name="sample-taken"),
    path("second-looks/", second_looks.second_looks, name="second-looks"),
    path("second-looks/<int:sample_pk>/", second_looks.second_look, name="second-look"),
]
