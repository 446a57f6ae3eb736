"""What the office chooses about a roster file."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _g
from django.utils.translation import gettext_lazy as _

from portal.people.models import RosterRun, SchoolYear
from portal.people.roster_import.files import fields
from portal.people.roster_import.files.table import LARGEST_FILE, Table, letters
from portal.people.roster_import.running import holds_upns


class FileForm(forms.Form):
    """The file itself."""

    file = forms.FileField(
        label=_("The roster file"),
        help_text=_("A spreadsheet (.xlsx) or a CSV file, as your office system exports it."),
        widget=forms.ClearableFileInput(attrs={"accept": ".xlsx,.csv,.txt,.tsv"}),
        max_length=200,
    )

    def clean_file(self) -> bytes:
        file = self.cleaned_data["file"]
        if file.size > LARGEST_FILE:
            raise ValidationError(_("The file is larger than 5 MB: it is not a list of children."))
        return file.read()


class ColumnsForm(forms.Form):
    """What each column holds."""

    def __init__(self, run: RosterRun, table: Table, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.table = table
        choices = [(field, fields.label(field)) for field in fields.FIELDS]
        for at, heading in enumerate(table.headings):
            self.fields[f"column-{at}"] = forms.ChoiceField(
                label=heading or _g("Column %(letter)s") % {"letter": letters(at)},
                help_text=" · ".join(table.examples(at)) or _g("empty"),
                choices=choices,
                initial=run.columns[at],
                required=False,
            )
        self.fields["one_class"] = forms.CharField(
            label=_("The class, if no column says it and everybody is in one"),
            max_length=40,
            initial=run.one_class,
            required=False,
        )

    def columns(self) -> list[str]:
        """Return the field chosen for each column."""
        return [self.cleaned_data[f"column-{at}"] for at in range(len(self.table.headings))]

    def clean(self) -> dict[str, Any]:
        data = super().clean() or {}
        if self.errors:
            return data
        columns = self.columns()
        if missing := fields.what_is_missing(columns, one_class=bool(data["one_class"])):
            raise ValidationError(missing)
        if holds_upns(self.table, columns):
            at = columns.index(fields.NUMBER)
            words = _(
                "These are unique pupil numbers, which are not to be used here. Choose the "
                "school's own number, or leave this column out."
            )
            self.add_error(f"column-{at}", words)
        return data


class ChoicesForm(forms.Form):
    """What to do with the file: for which year, which classes, and who leaves."""

    year = forms.ModelChoiceField(
        queryset=SchoolYear.objects.none(), label=_("For the school year"), empty_label=None
    )
    whole_school = forms.BooleanField(
        label=_("The file has every child of these classes: who is not in it has left"),
        required=False,
    )
    take = forms.MultipleChoiceField(
        label=_("Classes to take from the file"),
        widget=forms.CheckboxSelectMultiple,
        required=False,
    )

    def __init__(
        self,
        run: RosterRun,
        class_names: list[str],
        questions: list[str],
        **kwargs: Any,
    ) -> None:
        super().__init__(**kwargs)
        self.class_names, self.questions = class_names, questions
        if not fields.holds_children(run.columns):
            self.fields["whole_school"].widget = forms.HiddenInput()
            self.fields["take"].widget = forms.MultipleHiddenInput()
        self.fields["year"].queryset = run.school.years.order_by("-starts")
        self.fields["year"].initial = run.year_id
        self.fields["whole_school"].initial = run.whole_school
        self.fields["take"].choices = [(name.casefold(), name) for name in class_names]
        self.fields["take"].initial = [
            name.casefold() for name in class_names if name.casefold() not in run.left_out
        ]

    def chosen(self) -> dict[str, Any]:
        """Return what `running.choose` takes; answers are kept as they were typed."""
        taken = set(self.cleaned_data["take"])
        names = {name.casefold() for name in self.class_names}
        answers = {row: self.data.get(f"answer-{row}", "") for row in self.questions}
        return {
            "year": self.cleaned_data["year"],
            "whole_school": self.cleaned_data["whole_school"],
            "left_out": sorted(names - taken),
            "answers": {row: answer for row, answer in answers.items() if answer},
        }
