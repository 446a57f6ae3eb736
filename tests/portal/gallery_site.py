"""A site of the component page and two small pages, for the tests in a browser."""

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.template import RequestContext, Template
from django.urls import include, path

from portal.gallery import Gallery

SEND = """{% extends "base_family.html" %}{% load components static %}
{% block scripts %}<script type="module" src="{% static "portal/js/upload-progress.js" %}"></script>
<script type="module" src="{% static "portal/js/poll-piece.js" %}"></script>{% endblock %}
{% block page_heading %}{% page_head "Send" %}{% endblock %}
{% block main %}<form method="post" action="/send" enctype="multipart/form-data" data-upload>
{% csrf_token %}{% if wrong %}<p data-first tabindex="-1">That was not a photo.</p>{% endif %}
{% number_keys "answer" "answer" "How many?" %}
<label>Photo <input type="file" name="photo"></label>{% upload_line %}
<button class="button">Send</button></form>
{% piece_figure "photo" caption="Halving" status="preparing" poll="/piece" %}{% endblock %}"""
READY = "{% load components %}{% piece_figure 'photo' caption='Halving' status='ready' %}"


@login_not_required
def send(request: HttpRequest) -> HttpResponse:
    """Show a form; take a file that says "photo", and show the form again for any other."""
    sent = request.FILES.get("photo")
    if sent and sent.read() == b"photo":
        return HttpResponse(status=302, headers={"Location": f"/?at=family&got={sent.name}"})
    context = RequestContext(request, {"wrong": sent is not None})
    return HttpResponse(Template(SEND).render(context))


@login_not_required
def piece(request: HttpRequest) -> HttpResponse:
    """Return the piece as it stands once it is ready."""
    return HttpResponse(Template(READY).render(RequestContext(request)))


urlpatterns = [
    path("", login_not_required(Gallery.as_view())),
    path("send", send),
    path("piece", piece),
    path("", include("portal.people.urls")),
]
