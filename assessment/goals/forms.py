"""What staff fill in about sets of goals."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.urls import reverse
from django.utils.translation import gettext_lazy as _

from assessment.frameworks import FrameworkError
from assessment.frameworks.framework import LONGEST_TEXT, LONGEST_TITLE
from assessment.frameworks.kinds import KINDS
from assessment.goals.own_goal_sets import read_file
from assessment.models import Framework, Goal
from portal.people.models import School
from tasks.numberwork import KINDS as KINDS_OF_WORK

MOST_BYTES = 20_000_000


def kind_choices() -> list[tuple[str, str]]:
    """List the kinds of number work a goal may name, in the trade's words."""
    known = ((kind, KINDS_OF_WORK.get(kind)) for kind in KINDS)
    return [(kind, found.title if found else kind) for kind, found in known]


class FileForm(forms.Form):
    """A file with a set of goals. Read whole before anything is stored."""

    file = forms.FileField(
        label=_("File"),
        help_text=_(
            "A CASE package (JSON), or a table (CSV) with the columns code, strand and text."
        ),
        widget=forms.ClearableFileInput(attrs={"accept": ".json,.csv,.tsv,.txt"}),
    )
    title = forms.CharField(
        label=_("What the set is called"),
        max_length=LONGEST_TITLE,
        required=False,
        help_text=_("For a table. A CASE package says it itself."),
    )

    def clean_file(self) -> UploadedFile:
        file = self.cleaned_data["file"]
        if file.size > MOST_BYTES:
            raise forms.ValidationError(_("The file is larger than 20 MB."))
        return file

    def clean(self) -> dict[str, Any]:
        if "file" in self.cleaned_data:
            title = self.cleaned_data.get("title", "").strip()
            try:
                self.cleaned_data["read"] = read_file(self.cleaned_data["file"].read(), title)
            except FrameworkError as error:
                self.add_error("file", str(error))
        return self.cleaned_data


class KindsForm(forms.Form):
    """For some statements, the kinds of number work that give evidence of each."""

    def __init__(self, *args: object, goals: Iterable[Goal], **more: object) -> None:
        """Make the form for *goals*."""
        super().__init__(*args, **more)
        self.goals = list(goals)
        for goal in self.goals:
            self.fields[f"kinds-{goal.pk}"] = forms.MultipleChoiceField(
                label=goal.label,
                choices=kind_choices(),
                required=False,
                initial=goal.kinds,
                widget=forms.CheckboxSelectMultiple,
            )

    def rows(self) -> list[tuple[Goal, forms.BoundField]]:
        """Return each statement with its field."""
        return [(goal, self[f"kinds-{goal.pk}"]) for goal in self.goals]

    @property
    def ticked(self) -> dict[int, list[str]]:
        """Return the kinds chosen in a valid form, by the key of the statement."""
        return {goal.pk: self.cleaned_data[f"kinds-{goal.pk}"] for goal in self.goals}


class WhereForm(forms.Form):
    """Which statements to go through, and after which place in the set (-1: from the start)."""

    all = forms.BooleanField(required=False)
    after = forms.IntegerField(required=False, min_value=-1, max_value=32_767)

    @property
    def everything(self) -> bool:
        """Whether to go through those with kinds too."""
        return self.is_valid() and self.cleaned_data["all"]

    @property
    def after_place(self) -> int:
        """Return the place after which to go on."""
        place = self.cleaned_data["after"] if self.is_valid() else None
        return -1 if place is None else place

    def address(self, framework: Framework, last: Goal) -> str:
        """Return where the statements after *last* are gone through."""
        page = reverse("assessment:goal-set-kinds", args=[framework.pk])
        return f"{page}?{'all=1&' if self.everything else ''}after={last.position}"


class StatementForm(forms.Form):
    """The wording of one statement of a school's own set."""

    text = forms.CharField(
        label=_("Statement"),
        max_length=LONGEST_TEXT,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    strand = forms.CharField(label=_("Strand"), max_length=LONGEST_TITLE)
    note = forms.CharField(
        label=_("Note"),
        max_length=LONGEST_TEXT,
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
    )


class ChooseForm(forms.Form):
    """The set of goals that a class is tagged against."""

    framework = forms.ModelChoiceField(
        label=_("Goals"),
        queryset=Framework.objects.none(),
        empty_label=None,
        widget=forms.RadioSelect,
    )

    def __init__(self, *args: object, school: School, **more: object) -> None:
        """Make the form; what *school* may choose from is offered."""
        super().__init__(*args, **more)
        self.fields["framework"].queryset = Framework.objects.to_choose(school)
