"""The form a family sends work with."""

import secrets
from collections.abc import Iterable, Sequence
from typing import Any

from django import forms
from django.core.validators import RegexValidator
from django.http import QueryDict
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from evidence.models import Answer, Submission
from evidence.submissions.permissions import Sender
from evidence.uploads.arrivals import Words
from evidence.uploads.upload_handler import ArrivedFile, refusal_line
from portal.people.models import Home
from tasks.models import TaskPrompt

ANSWER = "answer-"
PART_HELP = "help-"  # and the number of the task
GLIMPSE = "glimpse-"  # and the number of the prompt
LONGEST_GLIMPSE = 1000 * 60 * 60  # milliseconds
UPLOADS = "uploads"
NO_HOME = "none"
LONGEST_ANSWER = Answer._meta.get_field("text").max_length
NOTHING = gettext_lazy("Add a photo, a clip, a voice note, an answer or a few words first.")
CUT_SHORT = gettext_lazy("Only part of this came through. Please send it again.")
CHANGED = gettext_lazy(
    "The teacher has changed the questions while this page was open. These answers were not kept:"
)


def new_form_key() -> str:
    """Return the name of one showing of the form: 128 random bits."""
    return secrets.token_urlsafe(16)


class SendForm(forms.Form):
    """What is typed and chosen beside the files: answers, how much help there was, a note.

    Every field may stay empty, but not the whole form. `files` are the pieces as they arrived.
    """

    form_key = forms.CharField(
        widget=forms.HiddenInput, validators=[RegexValidator(r"^[A-Za-z0-9_-]{20,40}$")]
    )
    note = forms.CharField(
        label=Submission._meta.get_field("note").verbose_name,
        max_length=1000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3, "class": "form-control", "dir": "auto"}),
    )
    help = forms.ChoiceField(
        label=gettext_lazy("How much help was there?"),
        choices=Submission.Help.choices,
        required=False,
    )
    also = forms.MultipleChoiceField(label=gettext_lazy("This is also for"), required=False)
    others = forms.BooleanField(
        label=gettext_lazy("Another child can be seen in a picture or clip"), required=False
    )

    def __init__(
        self,
        questions: Iterable[TaskPrompt],
        data: QueryDict | None = None,
        files: Sequence[ArrivedFile] = (),
        siblings: Iterable[Sender] = (),
        **more: Any,
    ) -> None:
        super().__init__(data, **more)
        self.arrived = list(files)
        self.fields["also"].choices = [
            (str(each.child.pk), each.child.first_name) for each in siblings
        ]
        self.fields["form_key"].initial = new_form_key()
        self.questions = list(questions)
        for question in self.questions:
            self.fields[f"{ANSWER}{question.pk}"] = forms.CharField(
                label=question.sentence, max_length=LONGEST_ANSWER, required=False
            )
            self.fields[f"{PART_HELP}{question.task_id}"] = forms.ChoiceField(
                label=self.fields["help"].label, choices=Submission.Help.choices, required=False
            )
            self.fields[f"{GLIMPSE}{question.pk}"] = forms.CharField(
                widget=forms.HiddenInput, required=False
            )
        # The last field of the page: when it is there, so is all that stands before it.
        self.fields["whole"] = forms.CharField(
            widget=forms.HiddenInput, initial="yes", error_messages={"required": CUT_SHORT}
        )

    def clean(self) -> dict[str, Any]:
        if lost := self.answers_to_nothing():
            self.add_error(None, f"{CHANGED} {', '.join(lost)}")
        return self.cleaned_data

    @property
    def came_through(self) -> bool:
        """Whether all of the form arrived, so that what is sound in it can be saved."""
        return {"form_key", "whole"} <= self.cleaned_data.keys()

    @property
    def siblings_chosen(self) -> list[str]:
        """Return the numbers of the siblings who did the work together."""
        return self.cleaned_data.get("also", [])

    @property
    def shows_others(self) -> bool:
        """Whether somebody says that the pieces show another child."""
        return bool(self.cleaned_data.get("others"))

    @property
    def sent_ahead(self) -> list[str]:
        """Return the tokens of the uploads whose pieces belong to this form."""
        return self.data.getlist(UPLOADS)

    @property
    def refusals(self) -> list[str]:
        """Say of each file that was not kept which one it is and why."""
        return [refusal_line(at, file) for at, file in enumerate(self.arrived, 1) if file.refusal]

    @property
    def has_failed(self) -> bool:
        """Whether a file was not kept for a reason that is ours."""
        return any(file.failed for file in self.arrived)

    @property
    def words(self) -> Words:
        """Return what was typed, as far as it is sound."""
        return Words(
            note=self.cleaned_data.get("note", "").strip(),
            help=self.cleaned_data.get("help", ""),
            answers={
                int(name.removeprefix(ANSWER)): text
                for name, text in self.cleaned_data.items()
                if name.startswith(ANSWER)
            },
            part_help={
                each.pk: self.cleaned_data.get(f"{PART_HELP}{each.task_id}", "")
                for each in self.questions
            },
            glimpses=self.glimpses,
        )

    @property
    def glimpses(self) -> dict[int, int]:
        """Return how long pictures were seen, by prompt; what is no such time is left out."""
        said = {
            each.pk: self.cleaned_data.get(f"{GLIMPSE}{each.pk}", "") for each in self.questions
        }
        return {
            pk: int(time)
            for pk, time in said.items()
            if time.isascii() and time.isdecimal() and 0 < int(time) <= LONGEST_GLIMPSE
        }

    def answers_to_nothing(self) -> list[str]:
        """List the answers that were typed for questions which are no longer set."""
        return [
            text[:LONGEST_ANSWER]
            for name, text in self.data.items()
            if name.startswith(ANSWER) and name not in self.fields and text.strip()
        ]


class PostForm(SendForm):
    """The form as staff fill it in: for one of the child's homes, or for none."""

    home = forms.ChoiceField(
        label=gettext_lazy("Whose work it is"),
        help_text=gettext_lazy("The adults of that home can then see it, and what you answer."),
        widget=forms.Select(attrs={"class": "form-select"}),
    )

    def __init__(self, homes: Iterable[Home], *given: Any, **more: Any) -> None:
        super().__init__(*given, **more)
        self.homes = list(homes)
        names = [(str(each.pk), home_line(each)) for each in self.homes]
        self.fields["home"].choices = [*names, (NO_HOME, _("No home: only the school sees it"))]
        self.fields["home"].initial = names[0][0] if names else NO_HOME
        self.fields["note"].label = _("A note")

    @property
    def came_through(self) -> bool:
        """Whether all of the form arrived, with a home to it or the word that there is none."""
        return super().came_through and "home" in self.cleaned_data

    @property
    def chosen_home(self) -> Home | None:
        """Return the home that was chosen."""
        return next(
            (each for each in self.homes if str(each.pk) == self.cleaned_data["home"]), None
        )


def home_line(home: Home) -> str:
    """Name *home* by its adults, as staff know them."""
    names = home.guardianships.current().values_list("adult__name", flat=True).distinct()
    return _("At home with %(names)s") % {"names": ", ".join(names) or _("nobody yet")}


def words_of(submission: Submission) -> dict[str, str]:
    """Return the words of *submission* as the initial values of a form that replaces them."""
    said: dict[str, str] = {"note": submission.note, "help": submission.help}
    for each in submission.answers.all():
        said[f"{ANSWER}{each.prompt_id}"] = each.text
        said[f"{PART_HELP}{each.prompt.task_id}"] = each.help
        said[f"{GLIMPSE}{each.prompt_id}"] = str(each.glimpse or "")
    return said


def too_large() -> str:
    """Say that a form was turned away unread."""
    return _("This is too much at once. Send one clip at a time.")
