"""The demo's mails: kept as files, readable, their links alive, and sent to nobody."""

import os
import subprocess
import sys

import pytest
from django.core.mail import EmailMessage, send_mail
from django.test import Client

from portal.demo import mails
from tests.stack import ROOT


def say_something(settings, words: str = "Hello") -> None:
    send_mail("A code", words, "portal@localhost", ["family@demo.invalid"])


def test_a_mail_is_read_with_whom_it_is_to_and_where_it_leads(demo, capsys):
    demo.SITE_URL = "http://localhost:8000"
    text = "Zażółć: http://localhost:8000/link/abc/\nnot http://localhost:8000.example/ or https://x.y/"
    say_something(demo, text)
    (kept,) = mails.kept(10)
    assert (kept.to, kept.subject) == ("family@demo.invalid", "A code")
    assert "".join(words for words, _is_link in kept.parts) == text
    assert [words for words, is_link in kept.parts if is_link] == [
        "http://localhost:8000/link/abc/"
    ]


def test_the_newest_stand_first_and_the_oldest_are_forgotten(demo, monkeypatch):
    monkeypatch.setattr(mails, "MOST", 3)
    for number in range(5):
        say_something(demo, str(number))
    assert [kept.parts[0][0] for kept in mails.kept(10)] == ["4", "3", "2"]


def test_a_mail_with_an_attachment_names_it(demo):
    message = EmailMessage("A file", "Here", "portal@localhost", ["office@demo.invalid"])
    message.attach("slips.pdf", b"%PDF", "application/pdf")
    message.send()
    assert mails.kept(1)[0].attached == ["slips.pdf"]


def test_words_of_a_mail_are_words_on_the_page(cast):
    say_something(cast, '<script>alert(1)</script> "quoted" http://localhost:8000/x"><b>')
    page = Client().get("/demo/mails/").content.decode()
    assert "<script>alert" not in page
    assert "<b>" not in page


def test_mails_are_said_in_the_terminal_as_people_read_them(demo, capfd, monkeypatch):
    monkeypatch.setattr(sys, "__stdout__", sys.stdout)
    say_something(demo, "Your code is 123456.\nGo on.")
    said = capfd.readouterr().out
    assert "Mail to family@demo.invalid: A code\n  | Your code is 123456.\n  | Go on." in said


@pytest.mark.parametrize(("demo_is", "backend"), [("1", "KeepOnly"), ("0", "smtp.EmailBackend")])
def test_a_demo_mails_nobody_whatever_is_set_and_a_real_portal_does(tmp_path, demo_is, backend):
    code = "from django.conf import settings; print(settings.EMAIL_BACKEND)"
    kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
    told = {"DEMO": demo_is, "EMAIL_URL": "smtp+tls://u:p@mail.example:587"}
    ran = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env={
            **kept,
            **told,
            "DATA_DIR": str(tmp_path),
            "DJANGO_SETTINGS_MODULE": "portal.settings",
        },
        capture_output=True,
        text=True,
        check=True,
    )
    assert backend in ran.stdout
