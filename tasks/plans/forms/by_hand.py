"""What a teacher types herself for a part: its numbers, or a question of her own."""

import re
from collections.abc import Collection, Iterable
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from tasks.models import Task, TaskPrompt
from tasks.numberwork import EVERY_KIND
from tasks.numberwork.by_hand.own import (
    CHOICES,
    LONGEST,
    NUMBER,
    SEVERAL,
    UNCHECKED,
    YES_NO,
    NotAnOwnPromptError,
    own_prompt,
)
from tasks.numberwork.by_hand.pictures import DRAWABLE
from tasks.numberwork.by_hand.reading import Typed, example, named_by, read_typed

TYPED = ("sentence", "picture", "numbers", "how", "right", "choices")


class NumbersForm(forms.Form):
    """The numbers of a part's questions, or the one number they are about.

    asked: keys of the other prompts of the day.
    """

    numbers = forms.CharField(
        label=gettext_lazy("The numbers"),
        max_length=300,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={"required": gettext_lazy("Type the numbers first.")},
    )
    within = forms.TypedChoiceField(label=gettext_lazy("Numbers up to"), coerce=int)

    def __init__(self, *args: Any, task: Task, asked: Collection[str] = (), **kwargs: Any) -> None:
        now = [row.prompt for row in task.prompts.all()]
        initial = {"within": task.within, "numbers": named_by(now)}
        super().__init__(*args, initial=initial, **kwargs)
        self.task, self.asked, self.kind = task, asked, EVERY_KIND[task.kind]
        self.fields["within"].choices = [(each, str(each)) for each in self.kind.ranges]
        field = self.fields["numbers"]
        if self.kind.one_number:
            field.label = _("The number")
            field.widget = forms.TextInput(attrs={"inputmode": "numeric"})
            field.help_text = _("One number: all the questions are about it.")
        else:
            how = example(task.kind, task.within, task.depth)
            field.help_text = _("Such as: %(example)s") % {"example": how}

    def clean(self) -> dict[str, Any]:
        """Read the numbers, and say of each that cannot be asked why not."""
        cleaned = super().clean()
        text, within = cleaned.get("numbers"), cleaned.get("within")
        if not text or not within:
            return cleaned
        if self.kind.one_number:
            cleaned["number"] = self._one_number(text, within)
            return cleaned
        typed = read_typed(self.task.kind, within, self.task.depth, text, self.asked)
        for refusal in typed.refusals:
            self.add_error("numbers", refusal)
        cleaned["typed"] = typed
        return cleaned

    def _one_number(self, text: str, within: int) -> int | None:
        """Read the number a part is about, or note why it cannot be."""
        if not re.fullmatch(r"\d{1,3}", text) or not 1 <= int(text) <= within:
            wrong = _("“%(text)s” cannot be the number here. Type one number from 1 to %(within)s.")
            self.add_error("numbers", wrong % {"text": text, "within": within})
            return None
        return int(text)

    @property
    def typed(self) -> Typed:
        """Return the questions that were typed, from a valid form."""
        return self.cleaned_data["typed"]


class OwnForm(forms.Form):
    """A question of the teacher's own: its sentence, its picture, and what is right.

    rows: the prompts of the part it goes on.
    """

    sentence = forms.CharField(
        label=gettext_lazy("Your question"),
        max_length=LONGEST,
        widget=forms.Textarea(attrs={"rows": 2, "maxlength": LONGEST}),
        help_text=gettext_lazy(
            "Plain words, not translated; __ makes a box. What is to be fetched brings its caution."
        ),
        error_messages={"required": gettext_lazy("Type the question first.")},
    )
    picture = forms.ChoiceField(label=gettext_lazy("Picture"), required=False)
    numbers = forms.CharField(
        label=gettext_lazy("Its numbers"),
        max_length=60,
        required=False,
        help_text=gettext_lazy("With commas: 8, 5, ?"),
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    how = forms.ChoiceField(
        label=gettext_lazy("How it is answered"),
        choices=[
            (NUMBER, gettext_lazy("a number")),
            (SEVERAL, gettext_lazy("a number; several count as right")),
            (YES_NO, gettext_lazy("yes or no")),
            (CHOICES, gettext_lazy("one of a few choices")),
            (UNCHECKED, gettext_lazy("in any way: I look at it myself")),
        ],
    )
    choices = forms.CharField(
        label=gettext_lazy("Choices"),
        max_length=100,
        required=False,
        help_text=gettext_lazy("Only for a choice, with commas: more, fewer, the same"),
    )
    right = forms.CharField(
        label=gettext_lazy("What is right"),
        max_length=60,
        required=False,
        help_text=gettext_lazy("Empty if you look at it yourself."),
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    place = forms.TypedChoiceField(
        label=gettext_lazy("Where it stands"), required=False, coerce=int, empty_value=None
    )
    keep = forms.BooleanField(label=gettext_lazy("Keep it among my own questions"), required=False)

    def __init__(self, *args: Any, rows: Iterable[TaskPrompt] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        pictures = [(name, f"{each.title}: {each.takes}") for name, each in DRAWABLE.items()]
        self.fields["picture"].choices = [("", _("none")), *pictures]
        instead = [
            (row.position, _("in place of: %(sentence)s") % {"sentence": row.sentence})
            for row in rows
        ]
        self.fields["place"].choices = [("", _("after the others")), *instead]

    def clean(self) -> dict[str, Any]:
        """Make the question, and say at its field what is wrong with it."""
        cleaned = super().clean()
        if self.errors:
            return cleaned
        try:
            cleaned["prompt"] = own_prompt(**self.typed)
        except NotAnOwnPromptError as wrong:
            self.add_error(wrong.part, str(wrong))
        return cleaned

    @property
    def typed(self) -> dict[str, str]:
        """Return what makes the question, as it was typed."""
        return {name: self.cleaned_data[name] for name in TYPED}
