"""The addresses of the week summed up, and of the leaves a family turns."""

from django.urls import path

from assessment.converters import CHILD, CLASS
from assessment.leaves import views as leaves
from assessment.weekly.views import family_words, pdf_sheets, school_week, weeks

OF_CLASS = f"{CLASS}weeks/<week:week>"
urlpatterns = [
    path(f"{CLASS}weeks/", weeks.class_this_week, name="class-this-week"),
    path(f"{OF_CLASS}/", weeks.class_week_page, name="class-week"),
    path(f"{OF_CLASS}.pdf", pdf_sheets.class_week_pdf, name="class-week-pdf"),
    path(f"{OF_CLASS}/families.pdf", pdf_sheets.family_sheets_pdf, name="family-sheets-pdf"),
    path(f"{OF_CLASS}/words/", family_words.family_words, name="family-words"),
    path("leaves/", leaves.leaves, name="leaves"),
    path("leaves/<str:token>/", leaves.leaf, name="leaf"),
    path(f"{CHILD}leaves/", leaves.child_leaves, name="child-leaves"),
    path("weeks/", weeks.this_week, name="this-week"),
    path("weeks/<week:week>/", weeks.family_week_page, name="week"),
    path(f"{CHILD}weeks/<week:week>/", weeks.child_week_page, name="child-week"),
    path(f"{CHILD}weeks/<week:week>.pdf", pdf_sheets.child_week_pdf, name="child-week-pdf"),
    path("school/weeks/", school_week.school_this_week, name="school-this-week"),
    path("school/weeks/<week:week>/", school_week.school_week_page, name="school-week"),
    path(
        "school/weeks/<week:week>.<sheet:sheet>",
        school_week.school_week_taken,
        name="school-week-taken",
    ),
    path("school/weeks/<week:week>.pdf", pdf_sheets.school_week_pdf, name="school-week-pdf"),
]
