"""Keeping the groups of a class: whoever is in one gets the work at its depth."""

from collections.abc import Iterable

from django.db.transaction import atomic
from django.utils.translation import gettext as _

from portal.people.models import Child, Group, SchoolClass
from tasks.models import Task
from tasks.plans.planning import PlanningError


def keep_group(group: Group, children: Iterable[Child]) -> None:
    """Save *group* with exactly these children, who leave any other group of the class.

    Raises PlanningError when somebody has just given another group its name.
    """
    members = list(children)
    with atomic():
        # One at a time in a class, so that no child can be put in two groups at once.
        SchoolClass.objects.select_for_update().get(pk=group.school_class_id)
        others = Group.objects.filter(school_class=group.school_class_id).exclude(pk=group.pk)
        if others.filter(name=group.name).exists():
            raise PlanningError(_("There is a group of that name. Choose another name."))
        group.save()
        Group.children.through.objects.filter(group__in=others, child__in=members).delete()
        group.children.set(members)


def remove_group(group: Group) -> None:
    """Remove *group* and its versions of drafted work.

    Raises PlanningError once work was set for it: answers may hang on it.
    """
    with atomic():
        SchoolClass.objects.select_for_update().get(pk=group.school_class_id)
        if Task.objects.filter(group=group, day_plan__goes_out_at__isnull=False).exists():
            raise PlanningError(
                _(
                    "Work has been set for %(group)s, and families may have done it, so the group "
                    "stays. Untick its children, and no more work is set for it."
                )
                % {"group": group.name}
            )
        group.delete()
