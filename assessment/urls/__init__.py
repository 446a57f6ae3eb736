"""The addresses of looking, of seeing what was shown, and of the week summed up."""

from django.urls import path

from assessment.urls import judgements, looks, progress, weekly
from assessment.weekly.views import unsubscribe

app_name = "assessment"
urlpatterns = [
    *looks.urlpatterns,
    *progress.urlpatterns,
    *judgements.urlpatterns,
    *weekly.urlpatterns,
    path("mail/stop/<str:token>/", unsubscribe.stop_mail, name="stop-mail"),
]
