"""First steps on looking, tagging and the week."""

from collections.abc import Iterator

from django.urls import reverse
from django.utils.translation import gettext as _

from assessment.models import ContactNote, FamilyWord, Look, Tag
from portal.guide.steps import Newcomer, Step
from portal.people.models import StaffPost

ROLE = StaffPost.Role


def steps(who: Newcomer) -> Iterator[Step]:
    """Yield those of *who*'s role."""
    if who.school_class is None:
        return
    queue = reverse("assessment:queue", args=[who.school_class.pk])
    if who.role in (ROLE.TEACHER, ROLE.ASSISTANT):
        looked = who.has(Look.objects.all(), looked_by="looked_at")
        yield Step(20, _("Look at a piece of work and answer"), queue, looked)
        tagged = who.has(Tag.objects.all(), tagged_by="tagged_at")
        yield Step(25, _("Tag how it shows a goal"), queue, tagged)
        silence = reverse("assessment:not-heard-from", args=[who.school_class.pk])
        called = who.has(ContactNote.objects.all(), called_by="called_at")
        yield Step(50, _("Note a call to a family not heard from"), silence, called)
    if who.role == ROLE.TEACHER:
        week = reverse("assessment:class-this-week", args=[who.school_class.pk])
        said = who.has(FamilyWord.objects.all(), by="at")
        yield Step(60, _("Write a word to families for Friday"), week, said)
