"""Ending an adult's access to a child: at once, and without a word to anybody at home."""

from django.db import transaction
from django.db.models import Q
from django.utils import timezone

from portal.operations import erasure_list
from portal.people.accounts.models.fingerprints import fingerprint
from portal.people.models import Guardianship, Invitation


@transaction.atomic
def end_guardianship(guardianship: Guardianship, *, everywhere: bool = False) -> int:
    """End *guardianship*; with *everywhere*, all that the adult has at the child's school.

    Every page, piece and range asked for from now on is refused. Open invitations by which the
    adult could come back are made useless: those mailed there, and those on paper, as nobody
    knows who holds them. Gives how many guardianships were ended.
    """
    adult = guardianship.adult
    ending = Guardianship.objects.current().filter(adult=adult)
    if everywhere:
        ending = ending.filter(child__school=guardianship.child.school_id)
    else:
        ending = ending.filter(pk=guardianship.pk)
    children = list(ending.values_list("child", flat=True))
    for pk in ending.values_list("pk", flat=True):
        erasure_list.note_on_commit("people.guardianship", pk, erasure_list.ENDED)
    ended = ending.update(ended_at=timezone.now())
    by_mail, on_paper = Q(email_key=fingerprint(adult.email)), Q(email_key="")
    Invitation.objects.active().filter(by_mail | on_paper, child__in=children).revoke()
    return ended
