"""What staff fill in while they look."""

from collections.abc import Iterable, Iterator, Mapping

from django import forms
from django.utils.translation import gettext_lazy as _

from assessment.looking import Saying
from assessment.models import Goal, Look, Tag
from evidence.models import Submission
from portal.people.models import Child

TAG_CHOICES = [("", _("no tag")), *Tag.How.choices]


def tag_field(goal_pk: int) -> str:
    """Give the name of the field that tags a goal."""
    return f"goal-{goal_pk}"


class LookForm(forms.Form):
    """A reply, a next step, and for each goal how it was shown."""

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
        widget=forms.TextInput(attrs={"class": "form-control"}),
        help_text=_("The family reads it too."),
    )

    def __init__(self, *args: object, goals: Iterable[Goal], **more: object) -> None:
        """Make the form; *goals*: those that may be tagged."""
        super().__init__(*args, **more)
        self.goals = list(goals)
        for goal in self.goals:
            self.fields[tag_field(goal.pk)] = forms.ChoiceField(
                label=goal.label, choices=TAG_CHOICES, required=False
            )

    @staticmethod
    def initial_of(look: Look | None, tags: Mapping[int, str]) -> dict[str, object]:
        """Give what the form shows for a look saved before, or for none."""
        start: dict[str, object] = {tag_field(goal): how for goal, how in tags.items()}
        if look is None:
            return {**start, "version": 0}
        said = {"reply": look.reply, "next_step": look.next_step}
        return {**start, **said, "version": look.version}

    def tag_rows(self) -> Iterator[tuple[Goal, str]]:
        """Give each goal and what is chosen for it on screen."""
        for goal in self.goals:
            yield goal, self[tag_field(goal.pk)].value() or ""

    @property
    def saying(self) -> Saying:
        """Give what a valid form says."""
        tags = {goal.pk: self.cleaned_data[tag_field(goal.pk)] for goal in self.goals}
        return Saying(
            reply=self.cleaned_data["reply"],
            next_step=self.cleaned_data["next_step"],
            tags={goal: how for goal, how in tags.items() if how},
        )


class SeenVersionForm(forms.Form):
    """The version of a look that was on screen when a button was pressed."""

    version = forms.IntegerField(min_value=0)


class QueueForm(forms.Form):
    """Which of a class's submissions to list."""

    WAITING, LOOKED_AT, ALL = "waiting", "looked-at", "all"

    show = forms.ChoiceField(
        label=_("Show"),
        choices=[(WAITING, _("waiting")), (LOOKED_AT, _("looked at")), (ALL, _("all"))],
        required=False,
        widget=forms.Select(attrs={"class": "form-select"}),
    )
    child = forms.ModelChoiceField(
        label=_("Child"),
        queryset=Child.objects.none(),
        required=False,
        empty_label=_("all children"),
        widget=forms.Select(attrs={"class": "form-select"}),
    )
    help = forms.ChoiceField(
        label=_("Help given"),
        choices=[("", _("any")), *Submission.Help.choices],
        required=False,
        widget=forms.Select(attrs={"class": "form-select"}),
    )

    def __init__(self, query: Mapping[str, str], children: Iterable[Child]) -> None:
        """Read *query*; *children*: those of the class, as a queryset."""
        super().__init__({"show": self.WAITING, **query})
        self.fields["child"].queryset = children
        self.is_valid()

    @property
    def wanted(self) -> dict[str, object]:
        """Give what was asked for, leaving out what makes no sense."""
        return {name: self.cleaned_data.get(name) for name in self.fields}

    @property
    def waits_only(self) -> bool:
        """Whether only what waits is listed."""
        return self.wanted["show"] not in (self.LOOKED_AT, self.ALL)

    @property
    def is_narrowed(self) -> bool:
        """Whether one child or one sort of help was asked for."""
        return bool(self.wanted["child"] or self.wanted["help"])
