"""Sets of frames as bits against Python's own sets."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from packseq.standup.states.bits import Numbered, has_all, has_any, missing, sizes

# Fewer than a word, just one, just over, and more than two.
COUNTS = st.sampled_from([1, 5, 64, 65, 130])


@given(COUNTS, st.data())
def test_sets_of_bits_are_sets(count: int, data: st.DataObject) -> None:
    numbered = Numbered([f"F{number}" for number in range(count)])
    some = st.sets(st.sampled_from(numbered.names))
    sets = data.draw(st.lists(some, min_size=1, max_size=4))
    wanted = data.draw(some)
    rows = np.stack([numbered.mask(each) for each in sets])
    mask = numbered.mask(wanted)
    assert [numbered.names_in(row) for row in rows] == sets
    assert has_all(rows, mask).tolist() == [wanted <= each for each in sets]
    assert has_any(rows, mask).tolist() == [bool(wanted & each) for each in sets]
    assert missing(rows, mask).tolist() == [len(wanted - each) for each in sets]
    assert sizes(rows).tolist() == [len(each) for each in sets]
    assert numbered.names_in(numbered.all) == set(numbered.names)


def test_a_name_that_has_no_number_is_refused() -> None:
    with pytest.raises(KeyError):
        Numbered(["A"]).mask(["B"])
