"""The examples in the docstrings of goals and insight hold."""

import doctest
import importlib
import pkgutil

import assessment.frameworks
import assessment.insight


def test_every_example_in_a_docstring_is_true():
    modules = [
        importlib.import_module(f"{package.__name__}.{found.name}")
        for package in (assessment.frameworks, assessment.insight)
        for found in pkgutil.iter_modules(package.__path__)
    ]
    results = [doctest.testmod(module) for module in modules]
    assert sum(result.attempted for result in results) >= 5
    assert not sum(result.failed for result in results)
