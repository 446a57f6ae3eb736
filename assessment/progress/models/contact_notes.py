"""Calls to families from whom nothing came."""

from typing import Self

from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from portal.people.asking import Asker
from portal.people.models import Child


class ContactNoteQuerySet(models.QuerySet["ContactNote"]):
    """Notes of calls, by who may see them."""

    def visible_to(self, user: Asker) -> Self:
        """Notes about children that *user* teaches. Families and the office see none."""
        return self.filter(child__in=Child.objects.taught_by(user))


class ContactNote(models.Model):
    """Who called about a child, when, and in a few words what came of it."""

    child = models.ForeignKey(Child, on_delete=models.CASCADE, related_name="contact_notes")
    called_by = models.ForeignKey(
        "people.User", on_delete=models.SET_NULL, null=True, related_name="+"
    )
    called_at = models.DateTimeField(default=timezone.now)
    words = models.CharField(_("what came of it"), max_length=200)

    objects = ContactNoteQuerySet.as_manager()

    class Meta:
        ordering = ["-called_at", "-pk"]
        constraints = [
            models.CheckConstraint(condition=~models.Q(words=""), name="a_note_says_something"),
        ]
        indexes = [models.Index(fields=["child", "-called_at"], name="note_of_child")]

    def __str__(self) -> str:
        return f"note {self.pk}"

    @property
    def part(self) -> str:
        """Return what the names of parts of a page about this note end with."""
        return str(self.pk)
