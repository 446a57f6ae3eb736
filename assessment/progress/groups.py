"""Groups for next week: suggested by shared gap or mistake, taken over by the teacher, undone."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessment.insight.groups import make_groups
from assessment.insight.needs import Need, Reason
from assessment.models import GroupsUsed
from assessment.progress.gaps import ClassEvidence
from assessment.progress.wording import kind_titles, need_words
from assessment.spreadsheets import Table
from portal.people.models import Child, Group, SchoolClass, User
from tasks.numberwork import KINDS

# Things from a kitchen: a name says nothing about who is in it, and nothing about an order.
NAMES = (
    *(_("Pegs"), _("Spoons"), _("Cups"), _("Shells"), _("Buttons"), _("Corks"), _("Lids")),
    *(_("Jars"), _("Bowls"), _("Straws"), _("Beads"), _("Socks"), _("Leaves"), _("Stones")),
    *(_("Sponges"), _("Trays"), _("Plates"), _("Mugs"), _("Baskets"), _("Boxes")),
)


@dataclass(frozen=True)
class Suggested:
    """A group for next week: a name to begin with, who is in it, why, and what would help.

    also: the children whose own first need is another, each with that need.
    """

    name: str
    children: list[Child]
    why: str
    also: list[tuple[Child, str]]
    kinds: list[tuple[str, str]]

    @property
    def keys(self) -> str:
        """Return the keys of its children, for a form to send back."""
        return ",".join(str(child.pk) for child in self.children)


class NotTheClassError(ValueError):
    """The groups to use are not made of the children of the class, each at most once."""


def suggest(known: ClassEvidence, size: int) -> list[Suggested]:
    """Suggest groups of at most *size* (2 or more) by what children need next.

    Only of children of whom anything is known lately; where that is nobody, none.
    """
    by_key = {child.pk: child for child in known.children}
    labels, kinds = known.labels, known.kinds
    made = make_groups(known.needs(), size, kinds)
    return [
        Suggested(
            name=name_at(place),
            children=[by_key[key] for key in group.children],
            why=need_words(group.why, labels),
            also=[(by_key[key], need_words(need, labels)) for key, need in group.also],
            kinds=kind_titles(work_for(group.why, kinds)),
        )
        for place, group in enumerate(made)
    ]


def work_for(need: Need, kinds: Mapping[str, Sequence[str]]) -> Sequence[str]:
    """Return the kinds of work that would help with *need*; *kinds*: by each goal's code."""
    if need.reason == Reason.MISTAKE:
        return [need.kind] if need.kind in KINDS else []
    return kinds.get(need.name, ())[:2]


def not_known(known: ClassEvidence) -> list[Child]:
    """Return the children of whom nothing is known lately; they stay in the groups they are in."""
    known_lately = known.known_lately
    return [child for child in known.children if child.pk not in known_lately]


def name_at(place: int) -> str:
    """Return a name to begin with; after the last of them, with a number."""
    again, at = divmod(place, len(NAMES))
    return f"{NAMES[at]} {again + 1}" if again else str(NAMES[at])


@transaction.atomic
def use(
    school_class: SchoolClass, user: User, wanted: Sequence[tuple[str, list[int]]]
) -> GroupsUsed:
    """Make the groups *wanted*, each a name and its children's keys, those of *school_class*.

    A group of that name keeps its depth and its work; its children change. A child leaves the
    groups it was in, as in two groups it would get the work of either. Raises NotTheClassError.
    """
    SchoolClass.objects.select_for_update().get(pk=school_class.pk)
    chosen = [key for _name, keys in wanted for key in keys]
    own = set(school_class.children.filter(pk__in=chosen).values_list("pk", flat=True))
    if not chosen or len(own) != len(chosen) or len({name for name, _keys in wanted}) < len(wanted):
        raise NotTheClassError
    standing = list(school_class.groups.prefetch_related("children"))
    before = {group.pk: [child.pk for child in group.children.all()] for group in standing}
    by_name = {group.name: group for group in standing}
    for group in standing:
        group.children.remove(*own)
    made = []
    for name, keys in wanted:
        group = by_name.get(name)
        if group is None:
            group = Group.objects.create(school_class=school_class, name=name)
            made.append(group.pk)
        group.children.set(keys)
    return GroupsUsed.objects.create(school_class=school_class, by=user, before=before, made=made)


@transaction.atomic
def undo(school_class: SchoolClass, key: int) -> bool:
    """Put the groups back to what they were before *key* was used; False: not the last use.

    A group made then stays, empty, where work has been planned for it since.
    """
    SchoolClass.objects.select_for_update().get(pk=school_class.pk)
    last = GroupsUsed.objects.filter(school_class=school_class, undone_at=None).first()
    if last is None or last.pk != key:
        return False
    made = school_class.groups.filter(pk__in=last.made)
    for group in made:
        group.children.clear()
    made.filter(tasks=None).delete()
    here = set(school_class.children.values_list("pk", flat=True))
    for group in school_class.groups.filter(pk__in=list(last.before)):
        group.children.set(here.intersection(last.before[str(group.pk)]))
    GroupsUsed.objects.filter(pk=last.pk).update(undone_at=timezone.now())
    return True


def groups_table(name: str, headings: Sequence[object], groups: Iterable[Suggested]) -> Table:
    """Return the suggested groups as a table, one line a child, with its own first need."""
    rows = [
        (group.name, child, group.why, dict(group.also).get(child, ""))
        for group in groups
        for child in group.children
    ]
    return Table(name, headings, rows)


def taken_over(data: Mapping[str, str]) -> list[tuple[str, list[int]]]:
    """Read the names and children of groups off a form's *data*. Raises NotTheClassError."""
    wanted = []
    for field, keys in data.items():
        if field.startswith("children-"):
            name = " ".join(data.get(f"name-{field.removeprefix('children-')}", "").split())
            if not name or len(name) > 40 or not all(key.isdecimal() for key in keys.split(",")):
                raise NotTheClassError
            wanted.append((name, [int(key) for key in keys.split(",")]))
    return wanted
