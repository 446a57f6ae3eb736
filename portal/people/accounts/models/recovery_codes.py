"""Recovery codes: the second step for whoever has lost the phone that shows it."""

from django.db import models
from django.utils import timezone

from portal.people.accounts.models.fingerprints import bare, draw_letters, fingerprint, in_fours
from portal.people.accounts.models.users import User

HOW_MANY, LETTERS = 10, 12


class RecoveryCode(models.Model):
    """One code, good once, kept as a fingerprint."""

    user = models.ForeignKey("people.User", on_delete=models.CASCADE, related_name="recovery_codes")
    code_hash = models.CharField(max_length=64, unique=True)
    used_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return f"recovery code {self.pk}"

    @classmethod
    def issue(cls, user: User) -> list[str]:
        """Put ten new codes in the place of those *user* had, and give them, this once."""
        user.recovery_codes.all().delete()
        codes = [draw_letters(LETTERS) for _number in range(HOW_MANY)]
        RecoveryCode.objects.bulk_create(
            RecoveryCode(user=user, code_hash=fingerprint(f"{user.pk} {code}")) for code in codes
        )
        return [in_fours(code) for code in codes]

    @classmethod
    def spend(cls, user: User, typed: str) -> bool:
        """Use up the code *typed*; False when *user* has no such code left."""
        mark = fingerprint(f"{user.pk} {bare(typed)}")
        unused = cls.objects.filter(user=user, code_hash=mark, used_at=None)
        return unused.update(used_at=timezone.now()) == 1
