"""What must not come back to life with a restored database: ways in that were closed since."""

from collections.abc import Iterator

from django.contrib.sessions.models import Session

from portal.operations import erasure_list
from portal.operations.erasure_list import Erasure
from portal.operations.hooks import Restored
from portal.people.accounts.staff import close_post
from portal.people.families.guardianships import end_guardianship
from portal.people.models import (
    AddressNotice,
    Child,
    Consent,
    Device,
    Guardianship,
    Home,
    Invitation,
    School,
    SchoolClass,
    SignInCode,
    StaffPost,
    User,
)


def close_ways_in(restored: Restored) -> Iterator[str]:
    """Sign everybody out, end open invitations and codes, and have no mail of before sent."""
    Session.objects.all().delete()
    Device.objects.all().delete()
    yield "Everybody is signed out."
    codes = SignInCode.objects.all().delete()[0]
    AddressNotice.objects.all().delete()
    ended = Invitation.objects.active().revoke()
    links = StaffPost.objects.filter(link_wanted_at__isnull=False).update(link_wanted_at=None)
    yield f"{ended} open invitations are ended, and {codes + links} mails to sign in not sent."
    since = f"{restored.taken_at:%d %B %Y, %H:%M}"
    yield (
        f"Children who changed class after {since} UTC are in the one before: run the newest "
        "roster file again. Have office and lead go through their lists of who may come in."
    )


def end_again(restored: Restored) -> Iterator[str]:
    """End once more what access was ended or made narrower, and say each no, since the backup."""
    ends = {
        ("people.guardianship", erasure_list.ENDED): end_tie,
        ("people.staffpost", erasure_list.ENDED): end_work,
        ("people.staffpost", erasure_list.NARROWED): narrow_work,
        ("people.consent", erasure_list.REFUSED): refuse,
    }
    done = 0
    for each in restored.since():
        if again := ends.get((each.model, each.what)):
            done += again(each)
    yield f"{done} ways in that were ended or made narrower, and consents refused, are so again."
    led = StaffPost.objects.active().filter(role=StaffPost.Role.LEAD).values("school")
    for pk in School.objects.exclude(pk__in=led).values_list("pk", flat=True):
        yield f"School {pk} has no lead: run manage.py add_lead."


def end_tie(ended: Erasure) -> int:
    """End an adult's access to a child; give how many that were."""
    found = Guardianship.objects.current().filter(pk=ended.pk).first()
    return end_guardianship(found) if found else 0


def end_work(ended: Erasure) -> int:
    """End a post, even a school's last of a lead: whoever came after is not in the backup."""
    found = StaffPost.objects.active().filter(pk=ended.pk).first()
    if found:
        close_post(found)
    return int(found is not None)


def narrow_work(changed: Erasure) -> int:
    """Let a post be what it was changed to, with no class that it was left without."""
    found = StaffPost.objects.active().filter(pk=changed.pk)
    role, classes = changed.details["role"], changed.details["classes"]
    for post in found:
        if post.user.posts.active().filter(school=post.school, role=role).exclude(pk=post.pk):
            close_post(post)  # They hold that very post already, by another row.
        else:
            found.update(role=role)
            post.classes.set(SchoolClass.objects.filter(pk__in=classes, year__school=post.school))
    return len(found)


def refuse(said: Erasure) -> int:
    """Say a no again that the backup does not know, where child and adult are still there."""
    rows = {"child_id": Child, "home_id": Home, "adult_id": User, "recorded_by_id": User}
    fields = {
        name: key
        for name, key in said.details.items()
        if name not in rows or key is None or rows[name].objects.filter(pk=key).exists()
    }
    if "child_id" not in fields or Consent.objects.filter(pk=said.pk).exists():
        return 0
    Consent.objects.create(given=False, at=said.at, **fields)
    return 1
