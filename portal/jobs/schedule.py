"""What is done by the clock, and how often. Each job may run twice: it finds what is to do."""

from datetime import timedelta

from celery.schedules import crontab

SCHEDULE = {
    "show that jobs are done": {
        "task": "portal.operations.jobs.tick",
        "schedule": timedelta(minutes=1),
    },
    "mail the codes that wait": {
        "task": "portal.people.jobs.send_waiting_codes",
        "schedule": timedelta(seconds=5),
    },
    "mail the invitations that wait": {
        "task": "portal.people.jobs.send_waiting_invitations",
        "schedule": timedelta(minutes=1),
    },
    "forget what is kept no longer": {
        "task": "portal.people.jobs.forget",
        "schedule": timedelta(minutes=10),
    },
    "sweep unfinished pieces": {"task": "evidence.jobs.sweep", "schedule": timedelta(seconds=20)},
    "send the reminders that are due": {
        "task": "evidence.jobs.send_reminders",
        "schedule": timedelta(minutes=5),
    },
    # A little each minute of the night; what could not be begun in time is not made up for.
    "compare the stored files": {
        "task": "evidence.jobs.scrub",
        "schedule": crontab(hour="1-4"),
        "options": {"expires": 50},
    },
    "look again at damaged files": {
        "task": "evidence.jobs.look_again_at_damaged",
        "schedule": timedelta(minutes=10),
    },
    "sweep unfinished spoken replies": {
        "task": "assessment.jobs.sweep_voices",
        "schedule": timedelta(seconds=20),
    },
    "delete what was kept long enough": {
        "task": "portal.data_protection.jobs.purge_schools",
        "schedule": crontab(minute=10),
    },
    "make the copies that wait": {
        "task": "portal.data_protection.jobs.sweep_copies",
        "schedule": timedelta(minutes=1),
    },
    "make the week summaries that are due": {
        "task": "assessment.jobs.make_due_summaries",
        "schedule": crontab(minute="*/5"),
    },
    "learn how common mistakes are": {
        "task": "assessment.jobs.learn_mistakes",
        "schedule": crontab(hour=4, minute=30),
    },
    "send the mails that wait": {
        "task": "assessment.jobs.send_waiting_mails",
        "schedule": timedelta(minutes=1),
    },
}
