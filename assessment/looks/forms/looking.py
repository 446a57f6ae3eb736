"""What staff fill in while they look at one piece."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessment.looks.drawing.strokes import read_strokes
from assessment.looks.looking import LookData
from assessment.looks.ready_made import NEXT_STEPS
from assessment.models import Goal, Look, Tag

TAG_CHOICES = [("", _("no tag")), *Tag.How.choices]


def tag_field(goal_pk: int) -> str:
    """Return the name of the field that tags a goal."""
    return f"goal-{goal_pk}"


class LookForm(forms.Form):
    """A reply, a next step, strokes over pictures, and for each goal how it was shown."""

    version = forms.IntegerField(min_value=0, widget=forms.HiddenInput)
    reply = forms.CharField(
        label=_("Reply to the child"),
        max_length=1000,
        required=False,
        widget=forms.Textarea(
            attrs={
                "rows": 3,
                "class": "form-control",
                "data-key": "r",
                "data-key-name": _("Write the reply"),
            }
        ),
    )
    next_step = forms.CharField(
        label=_("Next step"),
        max_length=300,
        required=False,
        widget=forms.TextInput(attrs={"class": "form-control", "list": "next-steps"}),
        help_text=_("The family reads it too: one that is offered here, in its own language."),
    )
    asks_more = forms.BooleanField(label=_("Ask the family for one more"), required=False)
    keep = forms.BooleanField(label=_("Keep this reply as a phrase"), required=False)
    # Of children whose work shows the same picture; their homes read it with their own name.
    both = forms.BooleanField(label=_("Say the same to both"), required=False)
    # None where the page sent none: then what is drawn stays as it is.
    strokes = forms.JSONField(
        required=False,
        widget=forms.HiddenInput,
        error_messages={"invalid": _("What was drawn came broken. Draw it once more.")},
    )
    ready_next_steps = NEXT_STEPS

    def __init__(
        self,
        *args: object,
        goals: Iterable[Goal],
        pictures: Collection[str] = (),
        **more: object,
    ) -> None:
        """Make the form; *goals*: those that may be tagged; *pictures*: names to draw on."""
        super().__init__(*args, **more)
        self.goals, self.pictures = list(goals), pictures
        for goal in self.goals:
            self.fields[tag_field(goal.pk)] = forms.ChoiceField(
                label=goal.label, choices=TAG_CHOICES, required=False
            )

    @staticmethod
    def initial_of(look: Look | None, tags: Mapping[int, str]) -> dict[str, object]:
        """Return what the form shows for a look saved before, or for none."""
        start: dict[str, object] = {tag_field(goal): how for goal, how in tags.items()}
        if look is None:
            return {**start, "strokes": {}, "version": 0}
        said = {"reply": look.reply, "next_step": look.next_step, "strokes": look.strokes}
        asks_more = look.asked_more_at is not None
        return {**start, **said, "asks_more": asks_more, "version": look.version}

    def clean_strokes(self) -> dict[str, Any] | None:
        strokes = self.cleaned_data["strokes"]
        if strokes is None:
            return None
        try:
            kept = read_strokes(strokes)
        except ValueError as error:
            raise forms.ValidationError(self.fields["strokes"].error_messages["invalid"]) from error
        return {picture: drawn for picture, drawn in kept.items() if picture in self.pictures}

    def tag_rows(self) -> Iterator[tuple[Goal, str]]:
        """Return each goal and what is chosen for it on screen."""
        for goal in self.goals:
            yield goal, self[tag_field(goal.pk)].value() or ""

    @property
    def saying(self) -> LookData:
        """Return what a valid form says."""
        tags = {goal.pk: self.cleaned_data[tag_field(goal.pk)] for goal in self.goals}
        return LookData(
            reply=self.cleaned_data["reply"],
            next_step=self.cleaned_data["next_step"],
            tags={goal: how for goal, how in tags.items() if how},
            asks_more=self.cleaned_data["asks_more"],
            strokes=self.cleaned_data.get("strokes"),
        )


class SeenVersionForm(forms.Form):
    """The version of a look that was on screen when a button was pressed."""

    version = forms.IntegerField(min_value=0)
