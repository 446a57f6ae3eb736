"""Sentences that one person replies with again and again."""

from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from portal.people.asking import Asker

LONGEST = 300
MOST = 40  # More than that nobody finds again.


class SavedPhraseQuerySet(models.QuerySet["SavedPhrase"]):
    """Saved phrases. They belong to one person and nobody else sees them."""

    def of(self, user: Asker) -> Self:
        """Those of *user*, in the order they were put in."""
        return self.filter(user=user)


class SavedPhrase(models.Model):
    """One sentence; {child}, {task}, {done} stand for the name, the work and what was found."""

    user = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="saved_phrases")
    position = models.PositiveSmallIntegerField(default=0)
    text = models.CharField(_("phrase"), max_length=LONGEST)

    objects = SavedPhraseQuerySet.as_manager()

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["user", "text"], name="one_phrase_once_a_person"),
            models.CheckConstraint(condition=~models.Q(text=""), name="a_phrase_says_something"),
        ]

    def __str__(self) -> str:
        return self.text
