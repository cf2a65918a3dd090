"""Lines open at a moment, told from the moments before it, against all lines looked at anew."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from packseq.routes.opened import Opened

KEYS = 20
# What each of six lines crosses: one nothing, one a key of its own, one all of them.
CROSSES = [set[int](), {3}, {3, 11}, {0, 7, 8, 19}, set(range(9, 17)), set(range(KEYS))]
CROSSED = np.packbits([[key in crosses for crosses in CROSSES] for key in range(KEYS)], axis=0)


@given(st.lists(st.frozensets(st.integers(0, KEYS - 1)), max_size=12))
def test_open_lines_are_the_same_whatever_was_asked_before(moments: list[frozenset[int]]) -> None:
    opened = Opened(CROSSED)
    for blocking in moments:
        active = np.packbits([key in blocking for key in range(KEYS)])
        assert opened.lines(active).tolist() == [crosses.isdisjoint(blocking) for crosses in CROSSES]


@given(st.permutations(range(KEYS)))
def test_open_lines_while_more_and_more_blocks_and_less_again(order: list[int]) -> None:
    opened = Opened(CROSSED)
    for count in (*range(KEYS + 1), *reversed(range(0, KEYS, 3))):
        blocking = set(order[:count])
        active = np.packbits([key in blocking for key in range(KEYS)])
        assert opened.lines(active).tolist() == [crosses.isdisjoint(blocking) for crosses in CROSSES]
