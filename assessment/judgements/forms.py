"""What teachers and leads fill in when they judge, and when they look a second time."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessment.judgements.second_looks import MOST, who_may_look
from assessment.looks.forms.looking import TAG_CHOICES, tag_field
from assessment.models import Goal, Period
from portal.people.models import SchoolClass, SchoolYear, User

NO_DECISION = ("", _("no decision yet"))


class JudgementForm(forms.Form):
    """One decision and a note, with the unit it is on and the version that was on screen."""

    unit = forms.CharField(widget=forms.HiddenInput)
    version = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    level = forms.ChoiceField(label=_("Your decision"), required=False)
    note = forms.CharField(
        label=_("A note, if you like"),
        max_length=1000,
        required=False,
        widget=forms.Textarea({"rows": 2, "class": "form-control"}),
    )

    def __init__(self, *args: Any, levels: Iterable[tuple[str, Any]], **more: Any) -> None:
        """Make the form; *levels*: the words a decision may take."""
        super().__init__(*args, **more)
        self.fields["level"].choices = [NO_DECISION, *levels]


class VersionForm(forms.Form):
    """Which judgement a button is about, and the version that was on screen."""

    unit = forms.CharField(max_length=200)
    version = forms.IntegerField(min_value=0)


class PeriodForm(forms.ModelForm):
    """A period to judge at the end of."""

    class Meta:
        model = Period
        fields = ["year", "name", "ends"]
        widgets = {"ends": forms.DateInput({"type": "date"}, "%Y-%m-%d")}
        labels = {"year": _("School year"), "name": _("What it is called")}

    def __init__(self, *args: Any, years: Any, **more: Any) -> None:
        """Make the form; *years*: those of the school."""
        super().__init__(*args, **more)
        self.fields["year"].queryset = years
        self.fields["year"].empty_label = _("Choose one")
        self.fields["name"].required = True

    def clean(self) -> dict[str, Any]:
        """Check that the last day is within the year."""
        cleaned = super().clean()
        year: SchoolYear | None = cleaned.get("year")
        ends = cleaned.get("ends")
        if year and ends and not year.starts <= ends <= year.ends:
            self.add_error("ends", _("Choose a day within the school year."))
        return cleaned


class SampleForm(forms.Form):
    """Of which class, by whom, and how many pieces to look at a second time."""

    school_class = forms.ModelChoiceField(
        SchoolClass.objects.none(), label=_("Class"), empty_label=_("Choose one")
    )
    second = forms.ModelChoiceField(
        User.objects.none(),
        label=_("Who looks a second time"),
        empty_label=_("Choose one"),
        help_text=_(
            "A colleague who sees the work of that class. Nothing they tagged themselves is chosen."
        ),
    )
    count = forms.IntegerField(
        label=_("How many pieces"),
        min_value=1,
        max_value=MOST,
        initial=10,
        widget=forms.NumberInput({"class": "form-control"}),
    )

    def __init__(self, *args: Any, classes: Any, staff: Any, **more: Any) -> None:
        """Make the form; *classes* and *staff*: those of the school."""
        super().__init__(*args, **more)
        self.fields["school_class"].queryset = classes
        self.fields["second"].queryset = staff

    def clean(self) -> dict[str, Any]:
        """Check that who is to look sees the work of the class."""
        cleaned = super().clean()
        school_class, second = cleaned.get("school_class"), cleaned.get("second")
        if school_class and second and second not in who_may_look(school_class):
            self.add_error("second", _("They do not see the work of that class. Choose another."))
        return cleaned


class SecondTagForm(forms.Form):
    """How each goal is shown, to somebody who does not see how it was tagged before."""

    def __init__(self, *args: Any, goals: Iterable[Goal], **more: Any) -> None:
        """Make the form; *goals*: those that may be tagged."""
        super().__init__(*args, **more)
        self.goals = list(goals)
        for goal in self.goals:
            self.fields[tag_field(goal.pk)] = forms.ChoiceField(
                label=goal.label, choices=TAG_CHOICES, required=False
            )

    @property
    def tags(self) -> dict[int, str]:
        """Return what a valid form says, by the goals' keys."""
        said = {goal.pk: self.cleaned_data[tag_field(goal.pk)] for goal in self.goals}
        return {goal: how for goal, how in said.items() if how}
