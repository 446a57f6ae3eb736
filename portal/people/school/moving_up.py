"""Children from class to class, and classes from year to year."""

import datetime as dt
from collections.abc import Iterable, Mapping

from django.db import transaction

from portal.people.models import Child, Group, School, SchoolClass, SchoolYear


def place_children(pks: Iterable[int], school_class: SchoolClass | None) -> None:
    """Put children into *school_class*, or into none; they leave the groups of other classes.

    What they sent and what is known of them stays; who taught them sees it no more.
    """
    pks = list(pks)
    Child.objects.filter(pk__in=pks).update(school_class=school_class)
    membership = Group.children.through.objects.filter(child__in=pks)
    if school_class:
        membership = membership.exclude(group__school_class=school_class)
    membership.delete()


@transaction.atomic
def change_child(child: Child) -> None:
    """Keep a child's name and class as they are on *child* now; groups follow the class."""
    Child.objects.filter(pk=child.pk).update(first_name=child.first_name, initial=child.initial)
    place_children([child.pk], child.school_class)


@transaction.atomic
def make_year(
    school: School, starts: dt.date, ends: dt.date, class_names: Iterable[str]
) -> SchoolYear:
    """Make a school year with its classes."""
    year = SchoolYear.objects.create(school=school, starts=starts, ends=ends)
    SchoolClass.objects.bulk_create(SchoolClass(year=year, name=name) for name in class_names)
    return year


@transaction.atomic
def move_up(moves: Mapping[SchoolClass, SchoolClass | None]) -> int:
    """Move the children of each class to another, or out of the school; give how many moved.

    All moves are of children as they stood before the first, so two classes may trade places.
    """
    School.objects.select_for_update().get(pk=next(iter(moves)).school.pk)
    before = {old: list(old.children.values_list("pk", flat=True)) for old in moves}
    for old, new in moves.items():
        place_children(before[old], new)
    return sum(len(pks) for pks in before.values())
