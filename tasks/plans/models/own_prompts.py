"""Questions that a teacher wrote herself and keeps, to use them again."""

from collections.abc import Mapping
from typing import Self

from django.db import models
from django.utils.translation import gettext_lazy as _

from portal.people.asking import Asker
from portal.people.models import School, SchoolClass, User
from tasks.numberwork import Prompt
from tasks.numberwork.by_hand.own import LONGEST

MOST_KEPT = 100  # of one teacher at one school: a list to look through


class OwnPromptQuerySet(models.QuerySet["OwnPrompt"]):
    """Questions that were kept, by whose they are."""

    def visible_to(self, user: Asker) -> Self:
        """Those *user* kept, at schools where *user* still plans for a class."""
        schools = SchoolClass.objects.run_by(user).values("year__school")
        return self.filter(made_by=user, school__in=schools)

    def at(self, school: School) -> Self:
        """Those kept at *school*, last ones first."""
        return self.filter(school=school).order_by("-pk")


class OwnPrompt(models.Model):
    """One question; data is what was typed for it, fact names it, so that none is kept twice."""

    school = models.ForeignKey(School, on_delete=models.CASCADE, related_name="own_prompts")
    made_by = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="own_prompts")
    sentence = models.CharField(_("question"), max_length=LONGEST)
    fact = models.CharField(max_length=16)
    data = models.JSONField()

    objects = OwnPromptQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["school", "made_by", "fact"], name="one_own_prompt_once_a_person"
            ),
        ]

    def __str__(self) -> str:
        return self.sentence

    @classmethod
    def keep(cls, school: School, user: User, prompt: Prompt, typed: Mapping[str, str]) -> bool:
        """Keep *prompt*, made of what was *typed*, for *user* at *school*.

        False where *user* has kept too many already.
        """
        mine = cls.objects.at(school).filter(made_by=user)
        if mine.filter(fact=prompt.fact).exists():
            return True
        if mine.count() >= MOST_KEPT:
            return False
        cls.objects.create(
            school=school,
            made_by=user,
            fact=prompt.fact,
            sentence=prompt.sentence,
            data=dict(typed),
        )
        return True
