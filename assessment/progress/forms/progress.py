"""What staff ask for when they see a class: what evidence, and groups of what size."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessment.progress.pictures.grid import Wanted
from tasks.numberwork import KINDS

SELECT = {"class": "form-select"}
DAY = {"type": "date", "class": "form-control"}


def kind_choices() -> list[tuple[str, Any]]:
    """Return every kind of work, and first that any counts."""
    return [("", _("any")), *((name, kind.title) for name, kind in KINDS.items())]


class GridForm(forms.Form):
    """Which evidence of a class to show. What makes no sense is left out, not refused."""

    first = forms.DateField(
        label=_("Work from"), required=False, widget=forms.DateInput(DAY, "%Y-%m-%d")
    )
    last = forms.DateField(label=_("to"), required=False, widget=forms.DateInput(DAY, "%Y-%m-%d"))
    kind = forms.ChoiceField(
        label=_("Kind of work"), choices=kind_choices, required=False, widget=forms.Select(SELECT)
    )

    @property
    def wanted(self) -> Wanted:
        """Return what was asked for."""
        self.is_valid()
        return Wanted(**{name: value for name, value in self.cleaned_data.items() if value})


class SizeForm(forms.Form):
    """How many children go into a group at most."""

    LEAST, MOST, USUAL = 2, 15, 6

    size = forms.IntegerField(
        label=_("Children in a group, at most"),
        min_value=LEAST,
        max_value=MOST,
        widget=forms.NumberInput({"class": "form-control"}),
    )

    @property
    def wanted(self) -> int:
        """Return the size asked for, or the usual one."""
        return self.cleaned_data["size"] if self.is_valid() else self.USUAL


class DraftForm(forms.Form):
    """Which kind of work to draft a day around, with which quick recall, and for whom."""

    kind = forms.ChoiceField(choices=kind_choices)
    recall = forms.ChoiceField(choices=kind_choices, required=False)
    group = forms.ModelChoiceField(queryset=None, required=False)

    def __init__(self, *args: Any, groups: Any, **more: Any) -> None:
        """Make the form; *groups*: those of the class."""
        super().__init__(*args, **more)
        self.fields["group"].queryset = groups

    @property
    def kinds(self) -> list[str]:
        """Return the kinds, the main task's first."""
        return [kind for kind in (self.cleaned_data["kind"], self.cleaned_data["recall"]) if kind]
