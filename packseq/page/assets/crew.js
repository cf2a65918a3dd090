"use strict";
// The page: its parts, its steps, and the journal that it keeps.
(() => {
  const byId = (id) => document.getElementById(id);
  const data = JSON.parse(byId("page-data").textContent);
  const last = data.moves.length;
  const journalKey = `packseq journal ${data.scenario} ${data.scenario_sha256}`;
  const stepKey = `packseq step ${data.plan_sha256}`;
  const cards = [...document.querySelectorAll(".step")];
  const live = Live.begin(data);
  let lines = [];
  let number = 1;
  let view = "day";
  let done = new Set();
  let other = [];

  document.documentElement.classList.add("js");

  function kept(key) {
    try { return localStorage.getItem(key); } catch { return null; }
  }

  function keep(key, text) {
    try {
      localStorage.setItem(key, text);
      if (localStorage.getItem(key) === text) return;
    } catch { /* told below */ }
    byId("unkept").hidden = false;
  }

  function shown(element, so) {
    element.hidden = !so;
  }

  function open(name) {
    view = name;
    for (const section of document.querySelectorAll(".view")) section.classList.toggle("open", section.id === name);
    for (const button of document.querySelectorAll("[data-view]")) {
      button.setAttribute("aria-pressed", String(button.dataset.view === name));
    }
    shown(byId("bar"), name === "steps");
    openMenu(name !== "steps");
    window.scrollTo(0, 0);
  }

  // On a small screen the parts of the page are behind a button while the steps are followed.
  function openMenu(so) {
    document.querySelector("nav").classList.toggle("open", so);
    byId("menu").setAttribute("aria-expanded", String(so));
  }

  function go(to) {
    number = Math.min(Math.max(to, 1), last + 1);
    keep(stepKey, String(number));
    cards.forEach((card, place) => shown(card, place === number - 1));
    shown(byId("finished"), number > last);
    byId("back").disabled = number === 1;
    byId("next").disabled = number > last;
    live.show(number);
    listLying();
    tellStep();
  }

  function listLying() {
    const rows = data.heaps.map((heap, place) => {
      const layers = data.states[number - 1].lies[place];
      const box = document.createElement("div");
      box.dataset.lies = heap.said;
      const name = document.createElement("h4");
      const from = heap.kind === "lean" ? "any can be taken" : "from the top";
      name.textContent = layers.length ? `${heap.said}, ${from}` : `${heap.said}: empty`;
      const list = document.createElement("ol");
      for (const layer of layers) {
        const item = document.createElement("li");
        item.textContent = layer.map((frame) => data.frames[frame]).join(", ");
        list.append(item);
      }
      box.append(name, list);
      return box;
    });
    byId("lies").replaceChildren(...rows);
  }

  // Tells what the journal makes of the steps: ticks, the count, and what the plan does not know of.
  function tell() {
    ({ done, other } = Journal.progress(lines, data));
    for (const box of document.querySelectorAll("[data-move]")) {
      const so = done.has(Number(box.dataset.move));
      box.classList.toggle("ticked", so);
      box.textContent = so ? "yes" : "";
    }
    cards.forEach((card, place) => card.classList.toggle("ticked", done.has(place + 1)));
    byId("progress").textContent = `${done.size} of ${last} done`;
    tellLines();
    tellStep();
  }

  // Tells the same of the step shown.
  function tellStep() {
    const button = byId("done");
    const now = done.has(number);
    button.textContent = now ? "Untick" : "Done";
    button.setAttribute("aria-pressed", String(now));
    button.disabled = number > last;
    tellNoted();
  }

  function tellNoted() {
    const move = data.moves[number - 1];
    const frame = move && data.frames[move.frame];
    const about = other.filter((each) => each.frame === frame).map(Journal.say);
    const left = cards.slice(0, number - 1).filter((_, place) => !done.has(place + 1)).length;
    const said = [];
    if (left) said.push(`${left} step${left === 1 ? "" : "s"} before this one ${left === 1 ? "is" : "are"} not ticked.`);
    if (about.length) said.push(`Noted: ${about.join("; ")}.`);
    if (other.length) {
      const count = other.length === 1 ? "1 thing was" : `${other.length} things were`;
      said.push(`${count} noted that this plan does not know of. It goes on as it was made.`);
    }
    byId("noted").textContent = said.join(" ");
    shown(byId("noted"), said.length > 0);
  }

  function tellLines() {
    const counts = new Set(Journal.counting(lines));
    const items = lines.map((each) => {
      const item = document.createElement("li");
      const words = document.createElement("span");
      words.textContent = `${each.at.slice(0, 16).replace("T", " ")}  ${Journal.say(each)}`;
      item.append(words);
      if (each.event === "begun" || each.event === "undone") return item;
      if (!counts.has(each)) {
        words.className = "undone";
        return item;
      }
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = "Take back";
      button.setAttribute("aria-label", `Take back: ${Journal.say(each)}`);
      button.addEventListener("click", () => takeBack(each));
      item.append(button);
      return item;
    });
    byId("lines").replaceChildren(...items.reverse());
  }

  function note(event, fields, remark) {
    if (!lines.length) {
      const { scenario, scenario_sha256 } = data;
      lines.push(Journal.line("begun", { scenario, scenario_sha256 }));
    }
    lines.push(Journal.line(event, fields, remark));
    keep(journalKey, Journal.write(lines));
    tell();
  }

  function takeBack(each) {
    const fields = { what: each.event };
    for (const key of ["frame", "pack"]) if (key in each) fields[key] = each[key];
    note("undone", fields);
  }

  function tick() {
    if (number > last) return;
    const move = data.moves[number - 1];
    const frame = data.frames[move.frame];
    const event = move.do === "stand" ? "stood" : "set aside";
    if (done.has(number)) {
      note("undone", { what: event, frame });
      return;
    }
    note(event, move.do === "stand" ? { frame } : { frame, to: Journal.whereOf(data.heaps[move.to]) });
    go(number + 1);
  }

  const FORM = {
    "stood": ["frame"],
    "set aside": ["frame", "to"],
    "missing": ["frame"],
    "damaged": ["frame"],
    "found": ["frame", "in", "layer"],
    "landed": ["pack", "x", "y", "bearing"],
    "crew": ["people"],
  };
  const field = (name) => byId(`f-${name}`);
  const heapNamed = (said) => data.heaps.find((heap) => heap.said === said);

  function arrange() {
    const wanted = new Set(["what", "note", ...FORM[field("what").value]]);
    if (wanted.has("layer") && heapNamed(field("in").value).kind !== "pack") wanted.delete("layer");
    for (const row of document.querySelectorAll("[data-field]")) {
      shown(row, wanted.has(row.dataset.field));
      row.querySelector("input, select").required = wanted.has(row.dataset.field) && row.dataset.field !== "note";
    }
  }

  function presetPlace() {
    const pack = heapNamed(field("pack").value);
    const [x, y, bearing] = data.packs[pack.name].at;
    field("x").value = x;
    field("y").value = y;
    field("bearing").value = bearing;
  }

  function formFields() {
    const value = (name) => field(name).value;
    const where = (name) => Journal.whereOf(heapNamed(value(name)));
    switch (value("what")) {
      case "set aside": return { frame: value("frame"), to: where("to") };
      case "found": {
        const place = where("in");
        return { frame: value("frame"), in: "pack" in place ? { ...place, layer: Math.round(Number(value("layer"))) } : place };
      }
      case "landed": return {
        pack: heapNamed(value("pack")).name,
        at_mm: [Number(value("x")), Number(value("y"))],
        bearing_deg: Number(value("bearing")),
      };
      case "crew": return { people: Math.round(Number(value("people"))) };
      default: return { frame: value("frame") };
    }
  }

  function save() {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([Journal.write(lines)], { type: "application/x-ndjson" }));
    link.download = `journal-${data.scenario.replace(/[^\p{L}\p{N}]+/gu, "-")}.jsonl`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  }

  async function load(file) {
    const read = Journal.read(await file.text(), data);
    const both = Journal.merged(lines, read.lines);
    lines = both.lines;
    keep(journalKey, Journal.write(lines));
    const added = `${both.added} line${both.added === 1 ? "" : "s"} added.`;
    byId("told").textContent = [added, ...read.faults.slice(0, 20)].join(" ");
    tell();
    toFirstLeft();
  }

  function toFirstLeft() {
    const first = data.moves.findIndex((_, place) => !done.has(place + 1));
    go(first < 0 ? last + 1 : first + 1);
  }

  function listen() {
    for (const button of document.querySelectorAll("[data-view]")) {
      button.addEventListener("click", () => open(button.dataset.view));
    }
    byId("menu").addEventListener("click", () => openMenu(byId("menu").getAttribute("aria-expanded") !== "true"));
    byId("begin").addEventListener("click", () => open("steps"));
    byId("back").addEventListener("click", () => go(number - 1));
    byId("next").addEventListener("click", () => go(number + 1));
    byId("done").addEventListener("click", tick);
    byId("report").addEventListener("click", () => {
      const move = data.moves[number - 1];
      if (move) field("frame").value = data.frames[move.frame];
      field("what").value = "missing";
      arrange();
      open("journal");
      field("what").focus();
    });
    byId("form").addEventListener("submit", (event) => {
      event.preventDefault();
      const [what, fields, remark] = [field("what").value, formFields(), field("note").value.trim()];
      const fault = Journal.faultOf(Journal.line(what, fields, remark), data);
      if (fault) {
        byId("told").textContent = `Not noted: ${fault}.`;
        return;
      }
      note(what, fields, remark);
      field("note").value = "";
      byId("told").textContent = `Noted: ${Journal.say(lines.at(-1))}.`;
    });
    for (const name of ["what", "in"]) field(name).addEventListener("change", arrange);
    field("pack").addEventListener("change", presetPlace);
    byId("save").addEventListener("click", save);
    byId("load").addEventListener("change", async (event) => {
      const [file] = event.target.files;
      if (file) await load(file);
      event.target.value = "";
    });
    document.addEventListener("keydown", press);
    listenForSwipes(byId("steps"));
  }

  function press(event) {
    const typing = event.target.closest("input, select, textarea, .table, summary");
    if (view !== "steps" || typing || event.ctrlKey || event.altKey || event.metaKey) return;
    const keys = { ArrowRight: () => go(number + 1), ArrowLeft: () => go(number - 1), d: tick };
    const act = keys[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  }

  function listenForSwipes(element) {
    let start = null;
    element.addEventListener("touchstart", (event) => {
      start = event.touches.length === 1 ? [event.touches[0].clientX, event.touches[0].clientY] : null;
    }, { passive: true });
    element.addEventListener("touchend", (event) => {
      if (!start || event.touches.length) return;
      const [right, down] = [event.changedTouches[0].clientX - start[0], event.changedTouches[0].clientY - start[1]];
      start = null;
      if (Math.abs(right) > 60 && Math.abs(right) > 2 * Math.abs(down)) go(number + (right < 0 ? 1 : -1));
    }, { passive: true });
  }

  lines = Journal.read(kept(journalKey) || "", data).lines;
  listen();
  arrange();
  presetPlace();
  tell();
  const at = Number(kept(stepKey));
  if (at >= 1 && at <= last + 1) go(at);
  else toFirstLeft();
  open(lines.length ? "steps" : "day");
})();
