"""Puts thirty teachers into DATA_DIR's database. Run as `python -m tests.faults.staff_room`."""

import django

HOW_MANY = 30


def main() -> None:
    """Build the staff room; everybody has the password of the village."""
    django.setup()
    from portal.people.models import User
    from tests.village import Village, make_staff

    village = Village.build()
    for number in range(HOW_MANY):
        make_staff(f"teacher-{number}", village.school, "teacher", [village.robins])
    password = village.people["teacher"].password
    User.objects.filter(name__startswith="Teacher-").update(password=password)


if __name__ == "__main__":
    main()
