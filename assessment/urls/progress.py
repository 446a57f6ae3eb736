"""The addresses of seeing what children of a class showed."""

from django.urls import path

from assessment.converters import CHILD, CLASS
from assessment.progress.views import child, gaps, grid, groups, participation

urlpatterns = [
    path(CHILD, child.child_page, name="child"),
    path(f"{CHILD}goals/<int:goal_pk>/", child.evidence, name="evidence"),
    path(f"{CLASS}goals/", grid.goals, name="goals"),
    path(f"{CLASS}goals.<sheet:sheet>", grid.goals_taken, name="goals-taken"),
    path(f"{CLASS}goals/<int:goal_pk>/", grid.goal, name="goal"),
    path(f"{CLASS}goals/<int:goal_pk>.<sheet:sheet>", grid.goal_taken, name="goal-taken"),
    path(f"{CLASS}gaps/", gaps.gaps, name="gaps"),
    path(f"{CLASS}gaps.<sheet:sheet>", gaps.gaps_taken, name="gaps-taken"),
    path(f"{CLASS}gaps/draft/", gaps.gap_drafted, name="gap-draft"),
    path(f"{CLASS}next-groups/", groups.groups, name="next-groups"),
    path(f"{CLASS}next-groups.<sheet:sheet>", groups.groups_taken, name="next-groups-taken"),
    path(f"{CLASS}next-groups/use/", groups.groups_used, name="next-groups-use"),
    path(f"{CLASS}next-groups/undo/<int:used_pk>/", groups.groups_undone, name="next-groups-undo"),
    path(f"{CLASS}taking-part/", participation.taking_part, name="taking-part"),
    path(
        f"{CLASS}taking-part.<sheet:sheet>",
        participation.taking_part_taken,
        name="taking-part-taken",
    ),
]
