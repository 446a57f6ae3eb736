"""Let the first lead of a school in."""

from argparse import ArgumentParser
from typing import Any

from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError
from django.core.validators import validate_email
from django.db import transaction

from portal.people.accounts.staff import add_post
from portal.people.mails import password_link
from portal.people.models import School, StaffPost


class Command(BaseCommand):
    help = (
        "Add a lead, and the school if there is none of that name. Prints the link by which the "
        "lead sets a password: it works once, for 7 days. Run it again for a new link."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--email", required=True, help="address of the lead")
        parser.add_argument("--name", required=True, help="name of the lead")
        parser.add_argument("--school", required=True, help="name of the school")
        parser.add_argument("--time-zone", default="Europe/London", help="of a new school")

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            validate_email(options["email"])
            with transaction.atomic():
                post = self.add(options)
        except ValidationError as error:
            raise CommandError(" ".join(error.messages)) from error
        self.stdout.write(
            f"{post.user.name} is a lead of {post.school.name}. Set the password here, once:\n"
            f"{password_link(post.user)}"
        )

    def add(self, options: dict[str, Any]) -> StaffPost:
        """Make the school, unless it is there, and the lead's post; no mail is sent."""
        name = options["school"].strip()
        school = School.objects.filter(name=name).first()
        if school is None:
            school = School(name=name, time_zone=options["time_zone"])
            school.full_clean()
            school.save()
        return add_post(
            school,
            email=options["email"],
            name=options["name"],
            role=StaffPost.Role.LEAD,
            classes=[],
            by_mail=False,
        )
