"""Deleting what staff made of a child's work, and of a school: for portal.data_protection."""

from django.db import transaction

from assessment.models import (
    ClassFramework,
    FamilyWord,
    Framework,
    GroupsUsed,
    Judgement,
    Period,
    Sample,
    SavedPhrase,
    Tag,
    VoiceReply,
    WeekSummary,
)
from evidence.storage.orphans import drop_unnamed
from portal.data_protection.hooks import Erasing
from portal.people.models import School


def erase(erasing: Erasing) -> None:
    """Delete what hangs on the child's work, and the child's key from lists that are kept."""
    child = erasing.child
    voices = VoiceReply.objects.filter(submission__child=child)
    names = list(voices.values_list("name", flat=True))
    erasing.delete(voices)
    erasing.delete(Tag.objects.filter(child=child))
    erasing.delete(WeekSummary.objects.filter(child=child))
    erasing.delete(FamilyWord.objects.filter(child=child))
    for used in GroupsUsed.objects.filter(school_class__year__school=child.school_id):
        forget_in_groups(used, child.pk)
    transaction.on_commit(lambda: drop_unnamed(names), robust=True)


def forget_in_groups(used: GroupsUsed, child_pk: int) -> None:
    """Take the child *child_pk* out of the groups of before."""
    before = {
        group: [child for child in children if child != child_pk]
        for group, children in used.before.items()
    }
    if before != used.before:
        GroupsUsed.objects.filter(pk=used.pk).update(before=before)


def close(school: School) -> None:
    """Delete what is left of *school*: all that keeps its classes and goals from going."""
    Sample.objects.filter(school_class__year__school=school).delete()
    WeekSummary.objects.filter(school_class__year__school=school).delete()
    ClassFramework.objects.filter(school_class__year__school=school).delete()
    judgements = Judgement.objects.filter(period__year__school=school)
    judgements._raw_delete(judgements.db)
    Period.objects.filter(year__school=school).delete()
    SavedPhrase.objects.filter(user__posts__school=school, user__guardianships=None).delete()
    Framework.objects.filter(school=school).delete()
