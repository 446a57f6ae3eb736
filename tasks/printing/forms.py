"""What a teacher chooses to print. Errors say what to do."""

import datetime as dt
from collections.abc import Collection, Iterator
from typing import Any

from django import forms
from django.db.models import Max
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from portal.people.models import Child, Group, SchoolClass
from tasks.days import monday_of, week_name
from tasks.models import DayPlan, Task
from tasks.printing import OF_A_DAY, PAPERS, SHEETS, Day, Order, Pack
from tasks.printing.of_plan import Readers, collect

USUAL = ("two-sides",)
MOST = 60  # children times days in one file: some hundred pages, made in seconds
CLASS, GROUP, CHILD = "class", "group", "child"
SIX_DAYS = dt.timedelta(days=6)  # from Monday to Sunday


class PrintForm(forms.Form):
    """A day or a week, for whom, which sheets, and on what paper."""

    span = forms.ChoiceField(
        label=gettext_lazy("What to print"),
        choices=[("day", gettext_lazy("one day")), ("week", gettext_lazy("the whole week"))],
        widget=forms.RadioSelect,
    )
    date = forms.DateField(
        label=gettext_lazy("Day"),
        help_text=gettext_lazy("For a week, any day in it."),
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )
    who = forms.ChoiceField(label=gettext_lazy("For"))
    sheets = forms.MultipleChoiceField(
        label=gettext_lazy("Sheets"),
        choices=list(SHEETS.items()),
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": gettext_lazy("Tick at least one sheet.")},
    )
    names = forms.BooleanField(
        label=gettext_lazy("Print first names"),
        required=False,
        help_text=gettext_lazy(
            "Each child then gets a set of their own. Without names, the paper does not say "
            "whose it is."
        ),
    )
    paper = forms.ChoiceField(
        label=gettext_lazy("Paper"),
        choices=[(paper.name, paper.label) for paper in PAPERS.values()],
        widget=forms.RadioSelect,
    )

    def __init__(self, *args: Any, school_class: SchoolClass, **kwargs: Any) -> None:
        usual = {"span": "day", "who": CLASS, "sheets": USUAL, "paper": "a4"}
        super().__init__(*args, initial=usual | kwargs.pop("initial", {}), **kwargs)
        self.school_class = school_class
        self.groups = {group.pk: group for group in school_class.groups.all()}
        self.children = {
            child.pk: child for child in school_class.children.prefetch_related("groups")
        }
        self.fields["who"].choices = list(self._readers())

    def _readers(self) -> Iterator[tuple[str, Any]]:
        """Return who one can print for: the class, its groups, its children."""
        yield CLASS, _("everyone in %(name)s") % {"name": self.school_class.name}
        for label, sort, rows in (
            (_("Groups"), GROUP, self.groups),
            (_("Children"), CHILD, self.children),
        ):
            if rows:
                yield label, [(f"{sort}-{pk}", str(row)) for pk, row in rows.items()]

    def clean(self) -> dict[str, Any]:
        """Collect what is to be printed, and say so when there is nothing of it."""
        cleaned = super().clean()
        if not self.errors:
            plans = self.school_class.day_plans.between(*self.days())
            cleaned["packs"] = self._packs(list(plans))
            cleaned["up_to"] = how_far(plans)
        return cleaned

    def days(self) -> tuple[dt.date, dt.date]:
        """Return the first and last day to print."""
        date = self.cleaned_data["date"]
        if self.cleaned_data["span"] == "day":
            return date, date
        return monday_of(date), monday_of(date) + SIX_DAYS

    def _packs(self, plans: Collection[DayPlan]) -> tuple[Pack, ...]:
        """Collect the packs, or note as an error what stands against printing them."""
        readers = self._chosen()
        if readers.named and not readers.children:
            self.add_error("names", _("There are no children here yet. Print without names."))
        if len(readers.children) * len(plans) > MOST:
            text = _("That is too much for one file. Print one day, or one group, at a time.")
            self.add_error("names", text)
        if self.errors:
            return ()
        packs = collect(readers, plans)
        self._check_there_is_work([day for pack in packs for day in pack.days])
        return packs

    def _chosen(self) -> Readers:
        """Return who to print for."""
        sort, _dash, pk = self.cleaned_data["who"].partition("-")
        named, who = self.cleaned_data["names"], self.school_class.name
        if sort == CHILD:
            return Readers(who, (self.children[int(pk)],), named=named)
        group = self.groups[int(pk)] if sort == GROUP else None
        if named:
            here = [child for child in self.children.values() if _is_in(child, group)]
            return Readers(who, tuple(here), named=True)
        if group is None:
            return Readers(who)
        return Readers(f"{who}, {group.name}", groups=frozenset((group.pk,)))

    def _check_there_is_work(self, days: Collection[Day]) -> None:
        """Note as an error when a chosen sheet has nothing to show."""
        chosen = set(self.cleaned_data["sheets"])
        if chosen & OF_A_DAY and not days:
            text = _(
                "Nothing is planned for %(when)s yet. Plan it first, or choose another day. "
                "The hundred square, number lines and number cards print without a plan."
            )
            self.add_error("date", text % {"when": self._when()})
        elif "mat" in chosen and all(day.number is None for day in days):
            text = _(
                "There is no number of the day for %(when)s. Add that part to the plan, or leave "
                "out the mat."
            )
            self.add_error("sheets", text % {"when": self._when()})

    def _when(self) -> str:
        """Name the day or the week."""
        first, last = self.days()
        if first == last:
            return date_format(first, "l j F")
        return _("the week from %(day)s") % {"day": date_format(first, "l j F")}

    def order(self) -> Order:
        """Return what is to be printed, from a valid form."""
        cleaned = self.cleaned_data
        return Order(
            packs=cleaned["packs"],
            sheets=frozenset(cleaned["sheets"]),
            dated=self.days()[0],
            paper=PAPERS[cleaned["paper"]],
            up_to=cleaned["up_to"],
        )

    def file_name(self) -> str:
        """Name the file by its day or week, and by nothing else."""
        first, last = self.days()
        return f"number-work-{first if first == last else week_name(first)}.pdf"


def _is_in(child: Child, group: Group | None) -> bool:
    """Tell whether *child*, its groups fetched, is in *group*; everybody is in None."""
    return group is None or group in child.groups.all()


def how_far(plans: Any) -> int:
    """Return how far number cards go for *plans*, a queryset: to 10, or to 20 if the work does."""
    within = Task.objects.filter(day_plan__in=plans).aggregate(Max("within"))["within__max"]
    return 20 if within and within > 10 else 10
