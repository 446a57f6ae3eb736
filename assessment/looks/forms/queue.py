"""What staff choose to see of what came in."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from django import forms
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from evidence.models import Submission
from portal.people.families.models.homes import ChildQuerySet
from portal.people.models import Group
from tasks.numberwork import kind_kept


@dataclass(frozen=True)
class Offered:
    """What the list can be narrowed to, and how many wait for each.

    groups: with their classes. counts: by the name of a field and the key of a choice, for the
    list of what waits; empty for others.
    """

    children: ChildQuerySet
    groups: list[Group]
    kinds: list[str]
    several_classes: bool = False
    counts: Mapping[tuple[str, object], int] = field(default_factory=dict)

    def labelled(self, name: str, key: object, label: object) -> str:
        """Return *label* with how many wait."""
        count = self.counts.get((name, key), 0)
        return f"{label} ({count})" if self.counts else str(label)


class QueueForm(forms.Form):
    """Which of what came in to list. Sent by GET, so that a list can be kept as a bookmark."""

    WAITING, LOOKED_AT, ALL = "waiting", "looked-at", "all"
    LONGEST, NEWEST, BY_CHILD = "longest", "newest", "child"
    FIELD = {"class": "form-select"}

    show = forms.ChoiceField(
        label=_("Show"),
        choices=[(WAITING, _("waiting")), (LOOKED_AT, _("looked at")), (ALL, _("all"))],
        required=False,
        widget=forms.Select(attrs=FIELD),
    )
    of = forms.ChoiceField(
        label=_("Class"),
        choices=[("", _("this class")), (ALL, _("all my classes"))],
        required=False,
        widget=forms.Select(attrs=FIELD),
    )
    group = forms.ChoiceField(label=_("Group"), required=False, widget=forms.Select(attrs=FIELD))
    kind = forms.ChoiceField(label=_("Task"), required=False, widget=forms.Select(attrs=FIELD))
    child = forms.ModelChoiceField(
        label=_("Child"),
        queryset=None,
        required=False,
        empty_label=_("all children"),
        widget=forms.Select(attrs=FIELD),
    )
    help = forms.ChoiceField(
        label=_("Help given"), required=False, widget=forms.Select(attrs=FIELD)
    )
    order = forms.ChoiceField(
        label=_("Order"),
        choices=[
            ("", _("usual order")),
            (LONGEST, _("waiting longest first")),
            (NEWEST, _("newest first")),
            (BY_CHILD, _("by child")),
        ],
        required=False,
        widget=forms.Select(attrs=FIELD),
    )
    marked = forms.BooleanField(label=_("shown to the lead"), required=False)
    day = forms.DateField(required=False, widget=forms.HiddenInput)  # set by links alone

    def __init__(self, query: Mapping[str, str], offered: Offered) -> None:
        """Read *query*; what makes no sense in it counts as not asked for."""
        super().__init__({"show": self.WAITING, **query})
        self.offered = offered
        self.fields["child"].queryset = offered.children
        self.fields["child"].label_from_instance = lambda child: offered.labelled(
            "child", child.pk, child
        )
        self.fields["group"].choices = [
            ("", _("all groups")),
            *((str(each.pk), offered.labelled("group", each.pk, each)) for each in offered.groups),
        ]
        self.fields["kind"].choices = [
            ("", _("all tasks")),
            *((kind, offered.labelled("kind", kind, title(kind))) for kind in offered.kinds),
        ]
        self.fields["help"].choices = [
            ("", _("any")),
            *((key, offered.labelled("help", key, said)) for key, said in Submission.Help.choices),
        ]
        if not offered.several_classes:
            del self.fields["of"]
        self.is_valid()

    @property
    def wanted(self) -> dict[str, object]:
        """Return what was asked for, leaving out what makes no sense."""
        return {name: self.cleaned_data.get(name) for name in ("of", *self.fields)}

    @property
    def waits_only(self) -> bool:
        """Whether only what waits is listed."""
        return self.wanted["show"] not in (self.LOOKED_AT, self.ALL)

    @property
    def is_narrowed(self) -> bool:
        """Whether only a part of what came in was asked for."""
        names = ("child", "group", "kind", "help", "marked", "day")
        return any(self.wanted[name] for name in names)

    @property
    def oldest_first(self) -> bool:
        """Whether the list begins with what waits longest."""
        order = self.wanted["order"]
        return order == self.LONGEST or (self.waits_only and not order)

    @property
    def in_words(self) -> str:
        """Say what is listed now, in the words of the choices."""
        words = [
            str(dict(self.fields[name].choices)[value])
            for name, value in self.wanted.items()
            if isinstance(value, str) and value
        ]
        if self.wanted["child"]:
            words.append(str(self.wanted["child"]))
        if self.wanted["day"]:
            words.append(date_format(self.wanted["day"], "l j F"))
        if self.wanted["marked"]:
            words.append(str(self.fields["marked"].label))
        return ", ".join(words)

    def choosers(self) -> list[forms.BoundField]:
        """Return the fields that are chosen from a list."""
        return [self[name] for name in self.fields if name not in ("marked", "day")]


def title(kind: str) -> str:
    """Return the title of a kind; its name where it is no longer there."""
    return kind_kept(kind).title
