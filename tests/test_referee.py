"""The referee passes good lays, and finds every fault put into them."""

from __future__ import annotations

import pytest
from lays import GOOD

from marker.referee import findings


@pytest.mark.parametrize("name", GOOD)
def test_good_lays_pass(name: str) -> None:
    assert findings(GOOD[name]()) == ()
