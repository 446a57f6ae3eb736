"""What a teacher fills in to choose which questions of a kind are asked."""

from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from portal.people.models import Group, SchoolClass
from tasks.models import Task
from tasks.numberwork import EVERY_KIND, KINDS
from tasks.numberwork.sequences.facts import facts_to_choose, facts_within, how_many_of
from tasks.numberwork.sequences.only import EVERYTHING, Only
from tasks.plans.forms.planning import ChoiceForm
from tasks.plans.prompt_selection import Choice

DRAWN = tuple(ChoiceForm.base_fields)


class QuestionsForm(ChoiceForm):
    """What to draw for one part, and which questions of it: without a choice any of them."""

    facts = forms.MultipleChoiceField(
        label=gettext_lazy("Only these"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "invalid_choice": gettext_lazy(
                "“%(value)s” is no question of this kind, as far and as hard as you ask for it."
            )
        },
    )
    least = forms.IntegerField(label=gettext_lazy("From"), required=False, min_value=0)
    most = forms.IntegerField(label=gettext_lazy("To"), required=False, min_value=1)

    def __init__(self, *args: Any, now: Choice | None = None, **kwargs: Any) -> None:
        """now: what the part is drawn as, where there is one: shown, and kept if left alone."""
        self.now = now
        initial = {**_initial(now), **(kwargs.pop("initial", None) or {})}
        super().__init__(*args, initial=initial, **kwargs)
        of_kind = (self._asked("kind"), self._asked("within"), self._asked("depth"))
        self.fields["facts"].choices = list(_facts(*of_kind).items())

    def _asked(self, name: str) -> str:
        """Return what is typed in a field now, or stands there at first."""
        if self.is_bound:
            return str(self.data.get(name, ""))
        return str(self[name].value() or next(iter(KINDS)))

    @property
    def drawn(self) -> list[BoundField]:
        """Return the fields above those about which questions."""
        return [field for field in self if field.name not in ("facts", "least", "most")]

    @property
    def is_narrowed(self) -> bool:
        """Whether questions are ticked, or something about them is amiss."""
        names = ("facts", "least", "most")
        return bool(self["facts"].value()) or any(self[name].errors for name in names)

    @property
    def numbers(self) -> str:
        """Say how far the numbers go that were chosen; "" where they are any."""
        least, most = self["least"].value(), self["most"].value()
        if least and most:
            return _("%(least)s to %(most)s") % {"least": least, "most": most}
        if most:
            return _("to %(most)s") % {"most": most}
        return _("from %(least)s") % {"least": least} if least else ""

    def clean(self) -> dict[str, Any]:
        """Check that as many questions as are asked for fit what is chosen."""
        cleaned = super().clean()
        if self.errors:
            return cleaned
        least, most = cleaned.get("least") or 0, cleaned.get("most") or 0
        if most and least > most:
            self.add_error("most", _("This is less than the number it goes from."))
            return cleaned
        only = cleaned["only"] = self._only(cleaned["facts"], least, most)
        there = how_many_of(cleaned["kind"], cleaned["within"], only)
        if only != EVERYTHING and not self._is_as_before() and cleaned["count"] > there:
            text = ngettext(
                "Only %(there)s question fits what is chosen under “Which questions”. Choose more "
                "of them there, or ask for fewer here.",
                "Only %(there)s questions fit what is chosen under “Which questions”. Choose more "
                "of them there, or ask for fewer here.",
                there,
            )
            self.add_error("count", text % {"there": there})
        return cleaned

    def _only(self, facts: list[str], least: int, most: int) -> Only:
        """Return what of the kind is asked: chosen numbers become the facts that have them.

        So nothing else fills a set up.
        """
        if self._is_as_before():
            return self.now.only
        if self._is_of_another_kind() and not {"least", "most"} & set(self.changed_data):
            least = most = 0
        if not (facts or least or most):
            return EVERYTHING
        of_kind = [self.cleaned_data[name] for name in ("kind", "within", "depth")]
        fitting = facts_within(*of_kind, least, most)
        chosen = tuple(fact for fact in fitting if not facts or fact in facts)
        return Only((), chosen or tuple(facts), least, most)

    def _is_of_another_kind(self) -> bool:
        return bool({"kind", "within"} & set(self.changed_data))

    def _is_as_before(self) -> bool:
        """Tell whether what a part is drawn of was left alone: then it stays, whatever it is."""
        touched = {"kind", "within", "depth", "facts", "least", "most"} & set(self.changed_data)
        return self.now is not None and not touched

    def choice(self) -> Choice:
        """Return what is to be drawn, from a valid form."""
        drawn = {name: self.cleaned_data[name] for name in DRAWN}
        return Choice(**drawn, only=self.cleaned_data["only"])


def _initial(now: Choice | None) -> dict[str, Any]:
    """Return what the fields show of *now*: facts only where they were ticked one by one."""
    if now is None:
        return {}
    only, of_kind = now.only, (now.kind, now.within, now.depth)
    known = now.kind in EVERY_KIND and now.within in EVERY_KIND[now.kind].ranges
    every = facts_within(*of_kind, only.least, only.most) if known else ()
    ticked = [] if set(only.facts) >= set(every) else list(only.facts)
    shown = {name: getattr(now, name) for name in DRAWN}
    return shown | {"facts": ticked, "least": only.least or None, "most": only.most or None}


def _facts(kind: str, within: str, depth: str) -> dict[str, str]:
    """Return the facts that can be ticked, each with its name; nothing for what is no kind.

    A range that the kind does not know counts as its largest below that, as on the page.
    """
    if kind not in EVERY_KIND or depth not in Group.Depth.values or not within.isdecimal():
        return {}
    ranges = EVERY_KIND[kind].ranges
    there = max((each for each in ranges if each <= int(within)), default=ranges[0])
    return facts_to_choose(kind, there, depth)


class PartForm(QuestionsForm):
    """A part to add, for the class or for one group."""

    part = forms.ChoiceField(label=gettext_lazy("Part of the day"), choices=Task.Part)
    group = forms.ModelChoiceField(
        label=gettext_lazy("For"),
        queryset=Group.objects.none(),
        required=False,
        empty_label=gettext_lazy("the whole class"),
    )
    field_order = ["part", "group", *DRAWN]

    def __init__(self, *args: Any, school_class: SchoolClass, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["group"].queryset = school_class.groups.all()
