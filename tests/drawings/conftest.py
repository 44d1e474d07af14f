"""What the tests of the drawings share."""

import pytest


@pytest.fixture(params=[390, 720, 1000], ids=lambda width: f"{width}px")
def width(request) -> int:
    return request.param
