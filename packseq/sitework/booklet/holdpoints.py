"""Hold points: where work stops until somebody has looked and signed."""

from __future__ import annotations

from dataclasses import dataclass, replace

from packseq.sheet import Section, Sheet, Tick, Ticks

SIGNED = ("name", "date")


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """A hold point: what it is called, and what must be so before work goes on."""

    name: str
    text: str

    def on(self, level: int) -> HoldPoint:
        """Return the same for one of several levels."""
        return replace(self, name=f"{self.name}, level {level}")


SLAB = HoldPoint("Slab", "The slab is measured, and whoever decides has accepted it or said what to do.")
DELIVERY = HoldPoint(
    "Delivery", "Packs, frames and fixings are as listed; what is damaged, missing or short is on order."
)
BRACES = HoldPoint("Braces", "The braces are cut and the people who stand frames know where each goes.")
LIFTING = HoldPoint(
    "Before the first lift",
    "Lifts for a machine are arranged, the gust is read, everyone has been told what makes work stop.",
)
SET_OUT = HoldPoint("Set-out", "Every line is marked and its checks were read by a second person.")
STANDING = HoldPoint(
    "Standing", "Every frame stands on its line, joined, and every brace is fixed at both ends."
)
READINGS = HoldPoint(
    "Readings",
    "Everything is measured and within its limit, or whoever decides has said what to do.",
)
FLOOR = HoldPoint(
    "Floor above",
    "The floor above is fixed as the consented drawings have it, and whoever is to decide has let packs and "
    "people on it.",
)
FIXINGS = HoldPoint(
    "Fixings", "Every fixing of the consented schedule is in; whoever must inspect them has done so."
)
SIGN_OFF = HoldPoint(
    "Sign-off", "What was measured is in the job's papers, the braces stand, and the next trade knows both."
)


def held(sheet: Sheet, point: HoldPoint) -> Sheet:
    """Return a sheet that ends with a hold point."""
    ticks = Ticks((Tick(point.text, SIGNED),), "Do not go on before this is signed:")
    return replace(sheet, sections=(*sheet.sections, Section(f"Hold point: {point.name}", (ticks,))))
