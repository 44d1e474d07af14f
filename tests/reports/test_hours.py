"""How hours of work are told."""

import pytest

from bedwright.reports.work_said import hours_words


@pytest.mark.parametrize(
    ("hours", "told"),
    [(12.34, "12.3"), (1.0, "1.0"), (0.25, "0.25"), (0.005, "0.01"), (0, "0.00")],
)
def test_hours_are_told_to_a_tenth_and_short_ones_to_a_hundredth(hours, told):
    assert hours_words(hours) == told


@pytest.mark.parametrize(("hours", "told"), [(0.0049, "0.005"), (0.0031, "0.003"), (1e-6, "0.001")])
def test_work_of_a_few_seconds_does_not_read_as_no_work(hours, told):
    assert hours_words(hours) == told
