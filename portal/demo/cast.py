"""Whom a visitor of the demo can come in as."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Person:
    """One invented account: *key* in its address, *email* in the database."""

    key: str
    email: str
    title: str
    does: str


CAST = (
    Person("teacher", "teacher@demo.invalid", "Ms Calder, teacher of Robins", "plans and looks"),
    Person("assistant", "assistant@demo.invalid", "Mr Oyelade, assistant", "looks and tags"),
    Person("family", "family@demo.invalid", "an adult at home with Mina", "does it and sends"),
    Person("siblings", "siblings@demo.invalid", "an adult with two children", "does it and sends"),
    Person("lead", "lead@demo.invalid", "Dr Brandt, lead of the year", "sees every class"),
    Person("office", "office@demo.invalid", "the school office", "keeps the roster"),
)
