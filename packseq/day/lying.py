"""Taking a frame from wherever it is and putting it wherever it was found, as no plan would."""

from __future__ import annotations

from dataclasses import replace

from packseq.check.state import Heap, Layer, State


def without(state: State, frame: str) -> State:
    """Return a state in which a frame neither stands nor lies anywhere."""
    heaps = {heap: _layers_without(layers, frame) for heap, layers in state.heaps.items()}
    lies = {name: heap for name, heap in state.lies.items() if name != frame}
    stood = tuple(name for name in state.stood if name != frame)
    return State(heaps, lies, stood, frozenset(stood))


def _layers_without(layers: tuple[Layer, ...], frame: str) -> tuple[Layer, ...]:
    left = (replace(layer, frames=tuple(name for name in layer.frames if name != frame)) for layer in layers)
    return tuple(layer for layer in left if layer.frames)


def put_on(state: State, frame: str, heap: Heap) -> State:
    """Return a state in which a frame that is nowhere lies on top of a heap, or leans with the others."""
    layers = state.heaps[heap]
    if heap.kind == "lean":
        leaning = tuple(name for layer in layers for name in layer.frames)
        return _with(state, frame, heap, (Layer(None, (*leaning, frame)),))
    return _with(state, frame, heap, (Layer(None, (frame,)), *layers))


def put_in_layer(state: State, frame: str, heap: Heap, number: int) -> State:
    """Return a state in which a frame that is nowhere lies in a layer of a pack.

    A layer of that number which is not there is made, in its place in the order.
    """
    layers = state.heaps[heap]
    if any(layer.number == number for layer in layers):
        joined = (
            replace(layer, frames=(*layer.frames, frame)) if layer.number == number else layer
            for layer in layers
        )
        return _with(state, frame, heap, tuple(joined))
    below = (place for place, layer in enumerate(layers) if (layer.number or 0) > number)
    place = next(below, len(layers))
    return _with(state, frame, heap, (*layers[:place], Layer(number, (frame,)), *layers[place:]))


def _with(state: State, frame: str, heap: Heap, layers: tuple[Layer, ...]) -> State:
    return replace(state, heaps={**state.heaps, heap: layers}, lies={**state.lies, frame: heap})
