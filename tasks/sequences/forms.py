"""What a teacher fills in when planning several days."""

import datetime as dt
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from portal.people.models import School, SchoolClass
from tasks.days import SCHOOL_DAYS, NoSuchTimeError, moment
from tasks.numberwork import KINDS
from tasks.numberwork.sequences.sequence import RANGES
from tasks.plans.forms.planning import MORNING, KindSelect, kind_choices
from tasks.sequences.drafting import Order
from tasks.sequences.slots import Place

DAILY = "number-of-the-day"  # it comes every day, so it is neither a focus nor recalled


def focus_choices() -> list[tuple[str, str]]:
    """Return every kind that days can be about, with an example."""
    kinds = [(name, words) for name, words in kind_choices() if name != DAILY]
    return [("", _("Choose …")), *kinds]


def known_choices() -> list[tuple[str, str]]:
    """Return every kind that a class can have met."""
    return [(name, kind.title) for name, kind in KINDS.items() if name != DAILY]


class FirstDayForm(forms.Form):
    """The day to begin on; all that is asked for a copy of an earlier sequence."""

    first = forms.DateField(
        label=gettext_lazy("Begins on"),
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        help_text=gettext_lazy(
            "Weekends, days when school is closed and days that have a plan already are skipped."
        ),
    )

    def __init__(self, *args: Any, school_class: SchoolClass, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.school_class = school_class

    def clean_first(self) -> dt.date:
        """Check that the day is still to come, within the school year of the class."""
        first, year = self.cleaned_data["first"], self.school_class.year
        if first < self.school_class.school.today():
            raise forms.ValidationError(_("That day has gone by. Choose today or a later day."))
        if not year.starts <= first <= year.ends:
            raise forms.ValidationError(
                _("The school year of this class is %(first)s to %(last)s. Choose a day in it.")
                % {"first": date_format(year.starts), "last": date_format(year.ends)}
            )
        return first


class SequenceForm(FirstDayForm):
    """What a sequence is about, how long it is, and what the class knows already."""

    focus = forms.ChoiceField(
        label=gettext_lazy("What the days are about"),
        choices=focus_choices,
        widget=KindSelect(attrs={"data-kind": ""}),
    )
    weeks = forms.TypedChoiceField(
        label=gettext_lazy("How long"),
        choices=[
            (1, gettext_lazy("one week: 5 school days")),
            (2, gettext_lazy("two weeks: 10 school days")),
            (3, gettext_lazy("three weeks: 15 school days")),
        ],
        coerce=int,
        initial=1,
    )
    within = forms.TypedChoiceField(
        label=gettext_lazy("Numbers up to"),
        choices=[(within, str(within)) for within in RANGES],
        coerce=int,
        initial=10,
        help_text=gettext_lazy(
            "Counts go further; a kind that does not go so far keeps to its own numbers."
        ),
    )
    known = forms.MultipleChoiceField(
        label=gettext_lazy("What the class knows already"),
        choices=known_choices,
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=gettext_lazy("These come back in quick recall, at growing gaps."),
    )
    field_order = ["focus", "weeks", "within", "first", "known"]

    def order(self, met: list[str]) -> Order:
        """Return what is asked for, from a valid form. met: kinds met, longest ago first."""
        cleaned = self.cleaned_data
        ticked = cleaned["known"]
        known = [name for name in met if name in ticked]
        known += [name for name in ticked if name not in met]
        return Order(
            cleaned["focus"],
            cleaned["weeks"] * SCHOOL_DAYS,
            cleaned["within"],
            cleaned["first"],
            tuple(known),
        )


class SwapForm(forms.Form):
    """Two places that are to be swapped, such as 2026-11-23 or 2026-11-23/main_task."""

    one = forms.CharField()
    other = forms.CharField()

    def clean(self) -> dict[str, Any]:
        """Read both places. A text that names none is an error of the form."""
        cleaned = super().clean()
        for name in ("one", "other"):
            try:
                cleaned[name] = Place.read(cleaned.get(name, ""))
            except ValueError:
                self.add_error(name, _("There is no such place."))
        return cleaned


class SetAllForm(forms.Form):
    """The time of the morning at which each drafted day goes out, on the school's own clock."""

    time = forms.TimeField(
        label=gettext_lazy("Each day goes out at"),
        initial=MORNING,
        widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"),
    )
    at_once = forms.BooleanField(
        label=gettext_lazy("If that time has gone by today, let today’s go out at once"),
        required=False,
    )

    def __init__(self, *args: Any, dates: list[dt.date], school: School, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        today, self.zone = school.today(), school.zone
        self.gone_by = [date for date in dates if date < today]
        self.to_come = [date for date in dates if date >= today]
        self.asks_at_once = today in dates

    def clean(self) -> dict[str, Any]:
        """Work out the moment of each day, and say so where there is none or it has gone by."""
        cleaned = super().clean()
        if "time" not in cleaned:
            return cleaned
        time, cleaned["moments"] = cleaned["time"], {}
        for date in self.to_come:
            try:
                at = moment(date, time, self.zone)
            except NoSuchTimeError:
                text = _("The clocks go forward over %(time)s on %(day)s. Choose another time.")
                said = {"time": f"{time:%H:%M}", "day": date_format(date, "l j F")}
                self.add_error("time", text % said)
                return cleaned
            if at <= timezone.now() and not cleaned.get("at_once"):
                text = _("%(time)s has gone by today. Choose a later time, or tick the box below.")
                self.add_error("time", text % {"time": f"{time:%H:%M}"})
                return cleaned
            cleaned["moments"][date] = at
        return cleaned
