"""The search through plans close to the best one known, for houses with too many states to open.

Each round opens the states near those of the best plan and looks for a better plan through them; what is
found is what the next round goes on from. It proves nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from packseq.plan.build import Step
from packseq.standup.states.best import Prospect, open_cut
from packseq.standup.states.guide import guide_along
from packseq.standup.states.moves import FAR, Scale
from packseq.standup.states.prices import Prices
from packseq.standup.states.yard import Yard

# States of each layer at first, and at most: twice as many whenever no better plan is found. Chosen by trial
# on houses of 80 and 110 frames.
_WIDTH, _WIDEST = 50, 400
# Rounds of the search through the states of one opening.
_ROUNDS = 2
# Opening the states takes about as long for each frame and layer as so many moves passed in pricing.
_OPENING_WORK = 500


class Corridor:
    """One job being searched for plans close to a known one, with no more extra lifts than it.

    Parameters
    ----------
    yard, scale
        The job, and how a plan's cost is counted.
    steps, cost
        The plan known. It sets no frame aside on a pack.

    Attributes
    ----------
    cost, steps
        The best plan, at first the one known.
    bound
        Less than the best plan costs as long as better ones are looked for, then `FAR`. It is no bound on
        all plans.
    whole
        False: there are plans that are not looked at.
    work
        How much has been done, in moves passed.
    """

    whole = False

    def __init__(self, yard: Yard, scale: Scale, steps: Sequence[Step], cost: int) -> None:
        self.yard = yard
        self.steps: tuple[Step, ...] = tuple(steps)
        self.cost = cost
        self.bound = 0
        self.work = 0
        self._scale = scale
        self._width = _WIDTH
        self._prices: Prices | None = None

    def go_on(self, most: int, stopped: Callable[[], bool], order: Sequence[str] = ()) -> None:
        """Look once more for a plan that costs less than `most`, as `Prospect.go_on` does."""
        yard = self.yard
        opened = open_cut(
            yard,
            sum(step.do == "set aside" for step in self.steps),
            self._scale,
            width=self._width,
            guide=guide_along(yard, self.steps),
            near=self._width // 2,
            stopped=stopped,
            prices=self._prices,
        )
        self.work += _OPENING_WORK * len(yard.frames) * yard.layers
        if opened is None:
            self.bound = int(FAR)
            return
        most = min(most, self.cost)
        for _ in range(_ROUNDS):
            opened.go_on(most, stopped, order)
            if opened.cost is not None or opened.bound >= most:
                break
        self.work += opened.work
        priced = {each: price for each, price in opened.prices.statements.items() if price}
        self._prices = Prices(opened.prices.by_spot, priced)
        if opened.cost is not None:
            self.cost, self.steps = opened.cost, opened.steps
            # More is looked for near the new plan, also if none of those opened is better.
            self.bound = min(opened.bound, opened.cost - 1)
        elif self._width < _WIDEST:
            self._width *= 2
        else:
            self.bound = int(FAR)


Searched = Prospect | Corridor
"""A search over plans: those of a space, or those close to a known one."""
