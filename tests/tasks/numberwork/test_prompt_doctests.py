"""The examples in the docstrings are true."""

import doctest
import importlib
import pkgutil

import pytest

import tasks.numberwork

MODULES = sorted(
    module.name
    for module in pkgutil.walk_packages(tasks.numberwork.__path__, "tasks.numberwork.")
    if ".pictures" not in module.name
)


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_a_module_are_true(name):
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_there_are_examples():
    tried = [doctest.testmod(importlib.import_module(name)).attempted for name in MODULES]
    assert sum(tried) >= 5
