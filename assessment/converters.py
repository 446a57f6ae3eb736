"""What stands in addresses besides numbers: weeks, and the form of a table to take away."""

from django.urls import register_converter

from assessment.insight.weeks import Week
from tasks.days import YEARS


class WeekInAddress:
    """An ISO week in an address, as in weeks/2026-W48/."""

    regex = r"\d{4}-W\d{2}"

    def to_python(self, value: str) -> Week:
        """Read the week. Raises ValueError, which Django answers with 404, for 2026-W60."""
        year, number = value.split("-W")
        if int(year) not in YEARS:
            raise ValueError(f"{value} is in no year of a school")
        return Week(int(year), int(number))

    def to_url(self, value: Week | str) -> str:
        """Write the week."""
        return str(value)


class SheetInAddress:
    """The form of a table to take away, as in goals.csv."""

    regex = "csv|xlsx"

    def to_python(self, value: str) -> str:
        """Read the form."""
        return value

    def to_url(self, value: str) -> str:
        """Write the form."""
        return value


register_converter(WeekInAddress, "week")
register_converter(SheetInAddress, "sheet")

CLASS, CHILD, LOOK = "classes/<int:class_pk>/", "children/<int:child_pk>/", "look/<str:token>/"
