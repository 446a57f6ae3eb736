"""The addresses of looking, of seeing what was shown, and of the week rolled up."""

from django.urls import path, register_converter

from assessment import looking_urls
from assessment.insight.weeks import Week
from assessment.views import mail, seeing, weeks


class WeekInAddress:
    """An ISO week in an address, as in weeks/2026-W48/."""

    regex = r"\d{4}-W\d{2}"

    def to_python(self, value: str) -> Week:
        """Read the week. Raises ValueError, which Django answers with 404, for 2026-W60."""
        year, number = value.split("-W")
        return Week(int(year), int(number))

    def to_url(self, value: Week | str) -> str:
        """Write the week."""
        return str(value)


register_converter(WeekInAddress, "week")

app_name = "assessment"
CLASS, CHILD = "classes/<int:class_pk>/", "children/<int:child_pk>/"
urlpatterns = [
    *looking_urls.urlpatterns,
    path(CHILD, seeing.child_page, name="child"),
    path(f"{CHILD}goals/<int:goal_pk>/", seeing.evidence, name="evidence"),
    path(f"{CLASS}goals/", seeing.goals, name="goals"),
    path(f"{CLASS}goals.csv", seeing.goals_csv, name="goals-csv"),
    path(f"{CLASS}weeks/", weeks.class_this_week, name="class-this-week"),
    path(f"{CLASS}weeks/<week:week>/", weeks.class_week_page, name="class-week"),
    path("weeks/", weeks.this_week, name="this-week"),
    path("weeks/<week:week>/", weeks.family_week_page, name="week"),
    path(f"{CHILD}weeks/<week:week>/", weeks.child_week_page, name="child-week"),
    path("mail/stop/<str:token>/", mail.stop_mail, name="stop-mail"),
]
