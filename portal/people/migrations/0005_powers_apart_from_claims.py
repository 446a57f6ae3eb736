"""Take powers apart from addresses that nobody has proved."""

from django.contrib.auth.hashers import UNUSABLE_PASSWORD_PREFIX, make_password
from django.db import migrations
from django.db.models import F


def prove_holders_of_passwords(apps, schema_editor):
    """Note as proved the address of whoever set a password: by a link that was mailed there."""
    users = apps.get_model("people", "User").objects.filter(email_confirmed_at=None)
    with_one = users.exclude(password__startswith=UNUSABLE_PASSWORD_PREFIX).exclude(password="")
    with_one.update(email_confirmed_at=F("created_at"))


def split(apps, schema_editor):
    """Give posts that hang on somebody's claim to an account of their own, and end its sessions.

    Whoever came in by slip stays at home with their children; the lead mails a new link.
    """
    User, Post = apps.get_model("people", "User"), apps.get_model("people", "StaffPost")
    claimed = Post.objects.filter(ended_at=None, user__email_confirmed_at=None)
    for user in User.objects.filter(pk__in=claimed.values("user")).exclude(guardianships=None):
        awaited = User.objects.create(
            email=user.email, name=user.name, language=user.language, password=make_password(None)
        )
        Post.objects.filter(user=user, ended_at=None).update(user=awaited)
        devices = apps.get_model("people", "Device").objects.filter(user=user)
        sessions = apps.get_model("sessions", "Session").objects
        sessions.filter(session_key__in=list(devices.values_list("session_key", flat=True))).delete()
        devices.delete()
        User.objects.filter(pk=user.pk).update(sessions_round=F("sessions_round") + 1)


class Migration(migrations.Migration):
    dependencies = [("people", "0004_proved_addresses"), ("sessions", "0001_initial")]
    operations = [
        migrations.RunPython(prove_holders_of_passwords, migrations.RunPython.noop, elidable=True),
        migrations.RunPython(split, migrations.RunPython.noop, elidable=True),
    ]
