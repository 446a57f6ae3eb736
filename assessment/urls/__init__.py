"""The addresses of looking, of seeing what was shown, and of the week rolled up."""

from django.urls import path

from assessment import judging_urls, looking_urls, seeing_urls, week_urls
from assessment.views import mail

app_name = "assessment"
urlpatterns = [
    *looking_urls.urlpatterns,
    *seeing_urls.urlpatterns,
    *judging_urls.urlpatterns,
    *week_urls.urlpatterns,
    path("mail/stop/<str:token>/", mail.stop_mail, name="stop-mail"),
]
