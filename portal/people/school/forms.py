"""What the office types about school years, days without school and moving up."""

import datetime as dt
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from portal.people.models import Closure, SchoolClass, SchoolYear

STAYS, LEAVES = "stays", "leaves"
LONGEST_NAME = SchoolClass._meta.get_field("name").max_length


class YearForm(forms.ModelForm):
    """A school year with its classes."""

    class_names = forms.CharField(
        label=_("Its classes"),
        help_text=_("One on each line."),
        widget=forms.Textarea(attrs={"rows": 4}),
    )

    class Meta:
        model = SchoolYear
        fields = ("starts", "ends")
        labels = {"starts": _("First day"), "ends": _("Last day")}
        widgets = {
            "starts": forms.DateInput(attrs={"type": "date"}),
            "ends": forms.DateInput(attrs={"type": "date"}),
        }

    def clean_class_names(self) -> list[str]:
        names = [" ".join(line.split()) for line in self.cleaned_data["class_names"].splitlines()]
        names = [name for name in names if name]
        if len({name.casefold() for name in names}) < len(names):
            raise ValidationError(_("Two classes have the same name."))
        if any(len(name) > LONGEST_NAME for name in names):
            raise ValidationError(
                _("A name may have up to %(most)s letters."), params={"most": LONGEST_NAME}
            )
        return names


class ClosureForm(forms.ModelForm):
    """A day or a span of days without school, with its name."""

    class Meta:
        model = Closure
        fields = ("name", "first", "last")
        labels = {"name": _("What it is called"), "first": _("First day"), "last": _("Last day")}
        help_texts = {
            "name": _("Families read it on these days: Half term, Training day."),
            "last": _("Leave it empty for a single day."),
        }
        widgets = {
            "first": forms.DateInput(attrs={"type": "date"}),
            "last": forms.DateInput(attrs={"type": "date"}),
        }

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["last"].required = False

    def clean_last(self) -> dt.date | None:
        """Take the first day where no other is given."""
        return self.cleaned_data["last"] or self.cleaned_data.get("first")


class MoveUpForm(forms.Form):
    """For each class of the year before: where its children go."""

    def __init__(
        self, old: list[SchoolClass], new: list[SchoolClass], *args: Any, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.old, self.new = old, new
        choices = [
            (STAYS, _("stay where they are for now")),
            *((str(each.pk), each.name) for each in new),
            (LEAVES, _("leave, and are no longer in a class")),
        ]
        for each in old:
            words = _("%(name)s: %(count)s children") % {"name": each.name, "count": each.size}
            self.fields[f"class-{each.pk}"] = forms.ChoiceField(
                label=words, choices=choices, initial=STAYS
            )

    def moves(self) -> dict[SchoolClass, SchoolClass | None]:
        """Give where the children of each class that is not to stay go; None: out of the school."""
        classes = {str(each.pk): each for each in self.new}
        chosen = {each: self.cleaned_data[f"class-{each.pk}"] for each in self.old}
        return {each: classes.get(to) for each, to in chosen.items() if to != STAYS}
