"""Whether a piece opens for a reader of staff: {% load other_children %}."""

from django import template

from evidence.models import Piece
from portal.people.asking import Asker
from portal.people.models import SchoolClass

register = template.Library()


@register.filter
def shut_for(piece: Piece, user: Asker) -> bool:
    """Whether *piece*, from `whole()`, shows others and stays with staff of a class not *user*'s.

    Asks the database once a reader, and only where a piece stays.
    """
    if not piece.stays:
        return False
    if not hasattr(user, "own_class_keys"):
        own = SchoolClass.objects.staffed_by(user)
        user.own_class_keys = set(own.values_list("pk", flat=True))
    return piece.submission.child.school_class_id not in user.own_class_keys
