"""Every result says where it comes from."""

from __future__ import annotations

import pytest

from splitline.assess.keys import OF, registry


@pytest.mark.parametrize("of", [of for of in OF if registry(of)])
def test_every_result_has_a_title_and_a_source(of: str) -> None:
    assert [key.key for key in registry(of).values() if not (key.title and key.source)] == []
