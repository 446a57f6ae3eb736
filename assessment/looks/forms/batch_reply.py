"""What staff fill in for many pieces at once."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessment.looks.forms.looking import LookForm, tag_field
from assessment.models import Goal

MOST = 60


class TickedField(forms.Field):
    """Ticked pieces, each written as token:version; cleaned to versions by token."""

    widget = forms.MultipleHiddenInput
    default_error_messages = {
        "required": _("Tick at least one piece of work."),
        "invalid": _("Some of the ticks could not be read. Load the list again."),
    }

    def to_python(self, value: Any) -> dict[str, int]:
        """Read the ticks. Raises ValidationError."""
        found: dict[str, int] = {}
        for tick in value or []:
            token, _colon, version = str(tick).rpartition(":")
            if not token or not (version.isascii() and version.isdigit() and len(version) < 9):
                raise forms.ValidationError(self.error_messages["invalid"])
            found[token] = int(version)
        if len(found) > MOST:
            raise forms.ValidationError(self.error_messages["invalid"])
        return found


class TogetherForm(LookForm):
    """One reply, next step and set of tags for all pieces that are ticked."""

    ticked = TickedField()

    def __init__(self, *args: object, goals: Iterable[Goal], **more: object) -> None:
        """Make the form; *goals*: those that may be tagged."""
        super().__init__(*args, goals=goals, prefix="all", **more)
        del self.fields["version"], self.fields["keep"], self.fields["strokes"]
        self.fields["reply"].help_text = _(
            "Write {child} for each child's first name, {task} for the work, "
            "{done} for what was found."
        )
        for name in ("reply", "next_step", *(tag_field(goal.pk) for goal in self.goals)):
            widget = self.fields[name].widget
            widget.attrs.pop("data-key", None)
            widget.attrs.setdefault("class", "form-select")

    def ticks(self) -> list[str]:
        """Return the ticks as they came, to be shown again."""
        return self.data.getlist(self.add_prefix("ticked")) if self.is_bound else []

    def tag_fields(self) -> list[forms.BoundField]:
        """Return the field of each goal."""
        return [self[tag_field(goal.pk)] for goal in self.goals]

    def clean(self) -> dict[str, Any]:
        said = [self.cleaned_data.get(name) for name in ("reply", "next_step", "asks_more")]
        tags = [self.cleaned_data.get(tag_field(goal.pk)) for goal in self.goals]
        if not any([*said, *tags]):
            raise forms.ValidationError(_("Write a reply or choose a tag first."))
        return self.cleaned_data
