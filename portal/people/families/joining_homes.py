"""Two homes that are one household, kept apart by a slip of the pen: made one, for good."""

from django.db import IntegrityError, models, transaction

from portal.people.models import Home


class CannotJoinError(Exception):
    """Both homes hold something that only one may: nothing was changed."""


@transaction.atomic
def join_homes(kept: Home, other: Home) -> None:
    """Make *other* part of *kept*: its children, adults, work, answers and all else.

    From then on each adult sees what the other home has sent, so the office makes sure first.
    What both have of a week or a day, such as its summary, stays as *kept* has it. Raises
    CannotJoinError.
    """
    locked = Home.objects.select_for_update().filter(
        school=kept.school_id, pk__in=[kept.pk, other.pk]
    )
    if len(locked) != len({kept.pk, other.pk}) or kept.pk == other.pk:
        raise CannotJoinError
    kept.children.add(*other.children.all())
    # Whatever any app hangs on a home; this one knows none of those above it.
    for relation in Home._meta.related_objects:
        for row in relation.related_model._base_manager.filter(**{relation.field.name: other}):
            move(row, relation, kept)
    kept.wants_mail = kept.wants_mail and other.wants_mail
    kept.address_key = kept.address_key or other.address_key
    other.delete()
    kept.save(update_fields=["wants_mail", "address_key"])


def move(row: models.Model, relation: models.ManyToOneRel, kept: Home) -> None:
    """Put *row* into *kept*; drop it where it only says again what is there.

    A row that would go with its home may be dropped; work and answers never are.
    """
    rows = relation.related_model._base_manager.filter(pk=row.pk)
    try:
        with transaction.atomic():
            rows.update(**{relation.field.name: kept})
    except IntegrityError as error:
        if relation.on_delete is not models.CASCADE:
            raise CannotJoinError from error
        rows.delete()
