"use strict";
// The drawing that changes from step to step. It only shows what the data say: every state comes from the check.
const Live = (() => {
  const SVG = "http://www.w3.org/2000/svg";

  function make(name, attributes, text) {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (text !== undefined) made.textContent = text;
    return made;
  }

  function begin(data) {
    const levels = new Map();
    for (const box of document.querySelectorAll("#live [data-level]")) {
      const svg = box.querySelector("svg");
      // The way lies under the names, so that they can be read; the words of the step lie over everything.
      const way = make("g", { class: "way" });
      const over = make("g", { class: "over" });
      svg.querySelector(".label").before(way);
      svg.append(over);
      const parts = { box, svg, way, over, width: 0, move: undefined, frames: byData(svg, "frame"), heaps: byData(svg, "heap") };
      levels.set(Number(box.dataset.level), parts);
      // The browser tells the width when it has laid out the page: asking for it at each step would lay it out twice.
      new ResizeObserver(() => { parts.width = svg.clientWidth; draw(parts, data); }).observe(svg);
    }
    return { show: (number) => show(data, levels, number) };
  }

  function mark(element, key, value) {
    if (element.dataset[key] !== value) element.dataset[key] = value;
  }

  function byData(svg, kind) {
    const found = new Map();
    for (const each of svg.querySelectorAll(`[data-${kind}]`)) {
      const name = each.dataset[kind];
      if (!found.has(name)) found.set(name, []);
      found.get(name).push(each);
    }
    return found;
  }

  // Shows the state before move `number` (from 1); one past the last shows the finished house.
  function show(data, levels, number) {
    const state = data.states[number - 1];
    const move = data.moves[number - 1];
    const stands = new Set(data.order.slice(0, state.stood));
    const goal = !move ? {} : move.do === "stand" ? { frame: move.frame } : { heap: move.to };
    const shown = move ? move.level : Math.max(...levels.keys());
    for (const [level, parts] of levels) {
      parts.box.hidden = level !== shown;
      if (level !== shown) continue;
      data.frames.forEach((name, frame) => {
        const how = stands.has(frame) ? "stands" : goal.frame === frame ? "now" : "waits";
        for (const each of parts.frames.get(name) || []) mark(each, "state", how);
      });
      data.heaps.forEach((heap, place) => {
        const count = state.lies[place].flat().length;
        for (const each of parts.heaps.get(heap.said) || []) {
          mark(each, "state", goal.heap === place ? "now" : "rests");
          mark(each, "empty", String(count === 0));
          const told = each.querySelector(".count");
          if (told) told.textContent = count === 0 ? "empty" : `${count} ${heap.kind === "pack" ? "left" : "here"}`;
        }
      });
      parts.move = move;
      draw(parts, data);
    }
  }

  function draw(parts, data) {
    const move = parts.move;
    parts.way.replaceChildren();
    parts.over.replaceChildren();
    if (!move) return;
    const box = parts.svg.viewBox.baseVal;
    // Letters of 15 pixels however small the screen, in mm of paper.
    const size = Math.min(Math.max((15 * box.width) / (parts.width || box.width), 3.6), 10);
    const route = move.route;
    parts.way.append(make("polyline", { class: "route", points: route.map((point) => point.join()).join(" "), "stroke-width": size / 6 }));
    parts.way.append(head(route, size));
    parts.way.append(make("circle", { class: "start", cx: route[0][0], cy: route[0][1], r: size / 3, "stroke-width": size / 6 }));
    const frame = data.frames[move.frame];
    const goal = move.do === "stand" ? `${move.stand}  ${frame}` : `${frame} to ${data.heaps[move.to].said}`;
    parts.over.append(callout(goal, route.at(-1), route.at(-2), size, box));
  }

  function head(route, size) {
    const [tip, before] = [route.at(-1), route.at(-2)];
    const length = Math.hypot(tip[0] - before[0], tip[1] - before[1]) || 1;
    const [x, y] = [((before[0] - tip[0]) / length) * size, ((before[1] - tip[1]) / length) * size];
    const points = [tip, [tip[0] + x - y / 2, tip[1] + y + x / 2], [tip[0] + x + y / 2, tip[1] + y - x / 2]];
    return make("polygon", { class: "head", points: points.map((point) => point.join()).join(" ") });
  }

  // Words beyond the end of the route, so that they hide neither the arrow nor the way.
  function callout(text, at, from, size, box) {
    const width = text.length * size * 0.62 + size * 0.6;
    const height = size * 1.5;
    const length = Math.hypot(at[0] - from[0], at[1] - from[1]) || 1;
    const [x, y] = [(at[0] - from[0]) / length, (at[1] - from[1]) / length];
    const reach = (Math.abs(x) * width + Math.abs(y) * height) / 2 + size * 0.7;
    const middle = [
      Math.min(Math.max(at[0] + x * reach, width / 2 + 0.5), box.width - width / 2 - 0.5),
      Math.min(Math.max(at[1] + y * reach, height / 2 + 0.5), box.height - height / 2 - 0.5),
    ];
    const group = make("g", { class: "callout" });
    group.append(
      make("rect", { x: middle[0] - width / 2, y: middle[1] - height / 2, width, height, rx: size / 4 }),
      make("text", { x: middle[0], y: middle[1] + size * 0.35, "font-size": size, "text-anchor": "middle" }, text),
    );
    return group;
  }

  return { begin };
})();
