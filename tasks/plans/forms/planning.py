"""What a teacher fills in when planning one day."""

import datetime as dt
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from portal.people.models import Group
from tasks.cards.wording import FIELDS, Wording
from tasks.days import NoSuchTimeError, moment
from tasks.models import DayPlan, Task
from tasks.numberwork import EVERY_KIND, KINDS, how_many
from tasks.plans.models.day_plans import ENOUGH, USUAL_ORDER
from tasks.plans.prompt_selection import Choice

MOST = 12  # prompts in one part: a child of four has had enough well before
MORNING = dt.time(7, 0)


class KindSelect(forms.Select):
    """A list of kinds in which each says its ranges, and whether it is about one number.

    So the page can offer those ranges only, and ask for the number only where there is one.
    """

    def create_option(self, name: str, value: Any, *args: Any, **kwargs: Any) -> dict[str, Any]:
        """Return one option with what is to be known of its kind."""
        option = super().create_option(name, value, *args, **kwargs)
        if value in EVERY_KIND:
            option["attrs"]["data-ranges"] = " ".join(map(str, EVERY_KIND[value].ranges))
            option["attrs"]["data-one-number"] = str(EVERY_KIND[value].one_number).lower()
        return option


def kind_choices() -> list[tuple[str, str]]:
    """Return every kind that is answered with an example, for a list to choose from."""
    return [(name, f"{kind.title}: {kind.example}") for name, kind in KINDS.items()]


def part_choices() -> list[tuple[str, Any]]:
    """Return what a part can be about: the kinds that are answered, and those done together."""
    together = [
        (name, f"{kind.title}: {kind.example}")
        for name, kind in EVERY_KIND.items()
        if kind.together
    ]
    return [(_("Answered"), kind_choices()), (_("Done together, nothing to type"), together)]


def range_choices() -> list[tuple[int, str]]:
    """Return every range that any kind knows."""
    every = sorted({within for kind in KINDS.values() for within in kind.ranges})
    return [(within, str(within)) for within in every]


def one_of(words: list[str]) -> str:
    """Write a choice as a sentence does: 5, 10 or 20."""
    *first, last = words
    if not first:
        return last
    return _("%(first)s or %(last)s") % {"first": ", ".join(first), "last": last}


class KindForm(forms.Form):
    """A kind of number work and how far it goes."""

    kind = forms.ChoiceField(
        label=gettext_lazy("Kind of number work"),
        choices=kind_choices,
        widget=KindSelect(attrs={"data-kind": ""}),
    )
    within = forms.TypedChoiceField(
        label=gettext_lazy("Numbers up to"),
        choices=range_choices,
        coerce=int,
        initial=10,
        widget=forms.Select(attrs={"data-within": ""}),
    )

    def clean(self) -> dict[str, Any]:
        """Check that the kind goes as far as is asked."""
        cleaned = super().clean()
        kind, within = EVERY_KIND.get(cleaned.get("kind", "")), cleaned.get("within")
        if kind and within and within not in kind.ranges:
            ranges = one_of([str(each) for each in kind.ranges])
            text = _("“%(kind)s” goes up to %(ranges)s. Choose one of these.")
            self.add_error("within", text % {"kind": kind.title, "ranges": ranges})
        return cleaned


class ChoiceForm(KindForm):
    """What to draw for one part."""

    kind = forms.ChoiceField(
        label=gettext_lazy("Kind of number work"),
        choices=part_choices,
        widget=KindSelect(attrs={"data-kind": ""}),
    )
    count = forms.IntegerField(
        label=gettext_lazy("How many"), min_value=1, max_value=MOST, initial=4
    )
    depth = forms.ChoiceField(
        label=gettext_lazy("How hard"), choices=Group.Depth, initial=Group.Depth.CORE
    )
    number = forms.IntegerField(
        label=gettext_lazy("The number"),
        help_text=gettext_lazy(
            "For the number of the day. If you leave it empty, one is chosen for you."
        ),
        required=False,
        min_value=1,
        widget=forms.NumberInput(attrs={"data-number": ""}),
    )

    def clean(self) -> dict[str, Any]:
        """Check that there are as many prompts as are asked for."""
        cleaned = super().clean()
        if self.errors:
            return cleaned
        kind, within, number = (cleaned[name] for name in ("kind", "within", "number"))
        if number and (wrong := _wrong_number(kind, within, number)):
            self.add_error("number", wrong)
            return cleaned
        there = how_many(kind, within, cleaned["depth"], number=number)
        if cleaned["count"] > there:
            text = _("There are only %(there)s of these. Ask for that many or fewer.")
            self.add_error("count", text % {"there": there})
        return cleaned

    def choice(self) -> Choice:
        """Return what is to be drawn, from a valid form."""
        return Choice(**{name: self.cleaned_data[name] for name in ChoiceForm.base_fields})


def _wrong_number(kind: str, within: int, number: int) -> str:
    """Say why a kind cannot be about *number*; nothing when it can."""
    if not EVERY_KIND[kind].one_number:
        return _("“%(kind)s” is not about one number. Leave this empty.") % {
            "kind": EVERY_KIND[kind].title
        }
    if number > within:
        return _("Numbers go up to %(within)s here. Choose one of those.") % {"within": within}
    return ""


class WordingForm(forms.ModelForm):
    """The words of a part."""

    class Meta:
        model = Task
        fields = FIELDS
        widgets = {
            "words": forms.Textarea(attrs={"rows": 3}),
            "fetch": forms.Textarea(attrs={"rows": 2}),
            "say": forms.Textarea(attrs={"rows": 2}),
            "caution": forms.Textarea(attrs={"rows": 2}),
        }

    def wording(self) -> Wording:
        """Return the words, from a valid form."""
        return Wording(**{name: self.cleaned_data[name] for name in FIELDS})


class DayForm(forms.ModelForm):
    """The focus of a day and a word to families."""

    class Meta:
        model = DayPlan
        fields = ("focus", "note")
        widgets = {"note": forms.Textarea(attrs={"rows": 3})}


class ArrangeForm(forms.Form):
    """Which part is the main one, the order of the parts, and how long the day may take."""

    main = forms.ChoiceField(
        label=gettext_lazy("Main part"),
        help_text=gettext_lazy("Once it is done, the card says: that is enough for today."),
        choices=Task.Part,
    )
    most_minutes = forms.IntegerField(
        label=gettext_lazy("Minutes at most"),
        help_text=gettext_lazy("You are told before you set a day that takes longer."),
        min_value=5,
        max_value=60,
    )

    def __init__(self, *args: Any, plan: DayPlan, **kwargs: Any) -> None:
        order = [step for step in plan.steps if step != ENOUGH]
        initial: dict[str, Any] = {"main": plan.main_part, "most_minutes": plan.most_minutes}
        super().__init__(*args, initial=initial, **kwargs)
        places = [(place, str(place)) for place in range(1, len(order) + 1)]
        for place, part in enumerate(order, 1):
            self.fields[f"place_{part}"] = forms.TypedChoiceField(
                label=_("Place of: %(part)s") % {"part": Task.Part(part).label},
                choices=places,
                coerce=int,
                initial=place,
            )

    def clean(self) -> dict[str, Any]:
        """Read the order off the places, each of which goes to one part."""
        cleaned = super().clean()
        if self.errors:
            return cleaned
        parts = sorted(Task.Part.values, key=lambda part: cleaned[f"place_{part}"])
        if len({cleaned[f"place_{part}"] for part in parts}) < len(parts):
            self.add_error(None, _("Two parts have the same place. Give each one its own."))
        parts.insert(parts.index(cleaned["main"]) + 1, ENOUGH)
        cleaned["order"] = "" if parts == list(USUAL_ORDER) else " ".join(parts)
        return cleaned


class SetForm(forms.Form):
    """When families get to see a plan: now, or at a time to come on the school's own clock."""

    when = forms.ChoiceField(
        choices=[("now", gettext_lazy("now")), ("later", gettext_lazy("later"))]
    )
    date = forms.DateField(
        label=gettext_lazy("On"),
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
    )
    time = forms.TimeField(
        label=gettext_lazy("At"),
        required=False,
        initial=MORNING,
        widget=forms.TimeInput(attrs={"type": "time"}, format="%H:%M"),
    )
    knowing = forms.BooleanField(label=gettext_lazy("Set it anyway"), required=False)

    def __init__(self, *args: Any, plan: DayPlan, zone: ZoneInfo, **kwargs: Any) -> None:
        super().__init__(*args, initial={"date": plan.date}, **kwargs)
        self.plan, self.zone = plan, zone
        self.today = plan.school_class.school.today()

    def clean(self) -> dict[str, Any]:
        """Work out the moment, and say so when it or the day has gone by."""
        cleaned = super().clean()
        cleaned["at"] = None
        if cleaned.get("when") == "later":
            cleaned["at"] = self._moment(cleaned.get("date"), cleaned.get("time"))
        elif self.plan.date < self.today and not cleaned.get("knowing"):
            text = _("%(day)s has gone by. Tick the box below to set its work anyway.")
            self.add_error("knowing", text % {"day": date_format(self.plan.date, "l j F")})
        return cleaned

    def _moment(self, day: dt.date | None, time: dt.time | None) -> dt.datetime | None:
        """Return the moment asked for, or note why it cannot be."""
        if day is None or time is None:
            if not self.errors:
                self.add_error(None, _("Choose a date and a time, or set the work now."))
            return None
        try:
            at = moment(day, time, self.zone)
        except NoSuchTimeError:
            text = _("The clocks go forward over %(time)s that night. Choose another time.")
            self.add_error("time", text % {"time": f"{time:%H:%M}"})
            return None
        if at <= timezone.now():
            self.add_error(
                "time", _("That time has gone by. Choose a later one, or set the work now.")
            )
        if day > self.plan.date:
            text = _("The work is for %(day)s. Choose that day or one before it.")
            self.add_error("date", text % {"day": date_format(self.plan.date, "l j F")})
        return at
