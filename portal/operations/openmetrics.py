"""Figures as text, in the OpenMetrics format."""

from collections.abc import Iterable
from itertools import groupby

from prometheus_client.core import CollectorRegistry, GaugeMetricFamily, Metric
from prometheus_client.openmetrics.exposition import CONTENT_TYPE_LATEST as CONTENT_TYPE
from prometheus_client.openmetrics.exposition import generate_latest

from portal.operations.hooks import Figure

__all__ = ["CONTENT_TYPE", "exposition"]
PREFIX = "kitchen_counter_"


def exposition(figures: Iterable[Figure]) -> bytes:
    """Write *figures* down; those of one name have the same labels and come one after another."""
    registry = CollectorRegistry()
    registry.register(Given([family(list(same)) for _name, same in groupby(figures, by_name)]))
    return generate_latest(registry)


def by_name(figure: Figure) -> str:
    """Return the name that figures are put together by."""
    return figure.name


def family(figures: list[Figure]) -> Metric:
    """Put figures of one name together."""
    first = figures[0]
    labels = [label for label, _value in first.labels]
    made = GaugeMetricFamily(PREFIX + first.name, first.words, labels=labels)
    for figure in figures:
        made.add_metric([value for _label, value in figure.labels], figure.value)
    return made


class Given:
    """What the registry asks for its metrics: these, and no other."""

    def __init__(self, metrics: list[Metric]) -> None:
        self.metrics = metrics

    def collect(self) -> list[Metric]:
        """Return them."""
        return self.metrics
