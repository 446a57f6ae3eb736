"""Every address of the portal. Each name stands in the access table of the tests."""

from django.conf import settings
from django.urls import include, path

from portal import views
from portal.guide.views import put_away, show_again
from portal.operations.views import metrics

urlpatterns = [
    path("", views.home, name="home"),
    path("healthz", views.healthz, name="healthz"),
    path("metrics", metrics, name="metrics"),
    path("first-steps/away/", put_away, name="first-steps-away"),
    path("first-steps/again/", show_again, name="first-steps-again"),
    path("", include("portal.people.urls")),
    path("", include("portal.data_protection.urls")),
    path("", include("tasks.urls")),
    path("", include("evidence.urls")),
    path("", include("assessment.urls")),
]
if settings.DEMO:
    urlpatterns.append(path("demo/", include("portal.demo.urls")))
