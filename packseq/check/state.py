"""Where every frame is at one moment: in its pack, on a spot, or standing."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from packseq.plan.begin import Begin
from packseq.scenario.model import Pack, Spot


@dataclass(frozen=True, slots=True)
class Heap:
    """A pack, a pile or a lean: whatever frames lie in."""

    kind: Literal["pack", "pile", "lean"]
    name: str

    def __str__(self) -> str:
        return f"pack {self.name}" if self.kind == "pack" else f"spot {self.name}"


@dataclass(frozen=True, slots=True)
class Layer:
    """Frames of a heap that do not lie on one another.

    `number` is that of the layer as delivered; None once it was put down on site.
    """

    number: int | None
    frames: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class State:
    """One moment of a plan.

    Parameters
    ----------
    heaps
        The layers left in each pack and on each spot, top first. Every frame of a pile is a
        layer; a lean is one layer, in the order it was put down. Empty layers are gone.
    lies
        The heap that each frame lies in, if any: the same said the other way round, to look up.
    stood
        Standing frames in stand order.
    standing
        The same frames, to look up.
    """

    heaps: Mapping[Heap, tuple[Layer, ...]]
    lies: Mapping[str, Heap]
    stood: tuple[str, ...] = ()
    standing: frozenset[str] = frozenset()

    @classmethod
    def delivered(cls, packs: Iterable[Pack], spots: Iterable[Spot]) -> State:
        """Return the state before the first move: full packs, empty spots."""
        full = {
            Heap("pack", pack.name): tuple(
                Layer(number, frames) for number, frames in zip(pack.layer_numbers, pack.layers, strict=True)
            )
            for pack in packs
        }
        empty: dict[Heap, tuple[Layer, ...]] = {Heap(spot.kind, spot.name): () for spot in spots}
        lies = {name: heap for heap, layers in full.items() for layer in layers for name in layer.frames}
        return cls(full | empty, lies)

    @classmethod
    def begun(cls, begin: Begin, frames: Container[str], heaps: Iterable[Heap]) -> State:
        """Return the state where a plan begins that was made in the middle of the job.

        Names that there are not are passed over; a frame that is in several places counts where it
        is said first: standing, then in the order of `heaps`.
        """
        seen: set[str] = set()

        def new(names: Iterable[str]) -> tuple[str, ...]:
            kept = tuple(name for name in dict.fromkeys(names) if name in frames and name not in seen)
            seen.update(kept)
            return kept

        stood = new(begin.stood)
        lying = {heap: tuple(_layers_begun(begin, heap, new)) for heap in heaps}
        lies = {name: heap for heap, layers in lying.items() for layer in layers for name in layer.frames}
        return cls(lying, lies, stood, frozenset(stood))

    def layer_number(self, frame: str) -> int | None:
        """Return the number of the layer a frame was delivered in, None once it was set aside."""
        for layer in self._layers_round(frame):
            if frame in layer.frames:
                return layer.number
        return None

    def lying(self, heap: Heap) -> tuple[str, ...]:
        """Return the frames in a heap, top first."""
        return tuple(frame for layer in self.heaps[heap] for frame in layer.frames)

    def above(self, frame: str) -> tuple[str, ...]:
        """Return the frames in the layers above a frame's own, top first; () if it does not lie."""
        above: list[str] = []
        for layer in self._layers_round(frame):
            if frame in layer.frames:
                break
            above.extend(layer.frames)
        return tuple(above)

    def after(self, frame: str, target: Heap | None) -> State:
        """Return the state once a lying frame is stood (`target` None) or set aside on `target`.

        Raises
        ------
        KeyError
            When the frame lies nowhere.
        """
        source = self.lies[frame]
        left = (
            Layer(layer.number, tuple(other for other in layer.frames if other != frame))
            if frame in layer.frames
            else layer
            for layer in self.heaps[source]
        )
        heaps = {**self.heaps, source: tuple(layer for layer in left if layer.frames)}
        if target is None:
            lies = {name: heap for name, heap in self.lies.items() if name != frame}
            return State(heaps, lies, (*self.stood, frame), self.standing | {frame})
        if target.kind == "lean":
            leaning = tuple(other for layer in heaps[target] for other in layer.frames)
            heaps[target] = (Layer(None, (*leaning, frame)),)
        else:
            heaps[target] = (Layer(None, (frame,)), *heaps[target])
        return replace(self, heaps=heaps, lies={**self.lies, frame: target})

    def _layers_round(self, frame: str) -> tuple[Layer, ...]:
        heap = self.lies.get(frame)
        return () if heap is None else self.heaps[heap]


def _layers_begun(
    begin: Begin, heap: Heap, new: Callable[[Iterable[str]], tuple[str, ...]]
) -> Iterator[Layer]:
    """Yield the layers of one heap, top first, without those that are empty."""
    match heap.kind:
        case "pack":
            layers = [Layer(layer.layer, new(layer.frames)) for layer in begin.packs.get(heap.name, ())]
        case "pile":
            layers = [Layer(None, (name,)) for name in new(begin.spots.get(heap.name, ()))[::-1]]
        case "lean":
            layers = [Layer(None, new(begin.spots.get(heap.name, ())))]
    yield from (layer for layer in layers if layer.frames)
