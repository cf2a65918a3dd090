"use strict";
// The journal: its lines, how they are read and written, and what they say about the plan's steps.
// The form of a line is told in docs/journal.md.
const Journal = (() => {
  const LARGEST = 5000000;
  const NOTE = 200;
  const FIELDS = {
    "begun": ["scenario", "scenario_sha256"],
    "stood": ["frame"],
    "set aside": ["frame", "to"],
    "missing": ["frame"],
    "damaged": ["frame"],
    "found": ["frame", "in"],
    "landed": ["pack", "at_mm", "bearing_deg"],
    "crew": ["people"],
    "undone": ["what"],
  };

  function moment() {
    const date = new Date();
    const two = (value) => String(Math.floor(Math.abs(value))).padStart(2, "0");
    const offset = -date.getTimezoneOffset();
    const day = [date.getFullYear(), two(date.getMonth() + 1), two(date.getDate())].join("-");
    const time = [two(date.getHours()), two(date.getMinutes()), two(date.getSeconds())].join(":");
    return `${day}T${time}${offset < 0 ? "-" : "+"}${two(offset / 60)}:${two(offset % 60)}`;
  }

  function line(event, fields, note) {
    const made = { format: 1, at: moment(), event, ...fields };
    if (note) made.note = note;
    return made;
  }

  const write = (lines) => lines.map((each) => JSON.stringify(each) + "\n").join("");

  // What a line is about: lines that take one another back have the same subject.
  const subject = (each) => ("frame" in each ? "frame " + each.frame : "pack" in each ? "pack " + each.pack : "");

  function counting(lines) {
    const left = [];
    for (const each of lines) {
      if (each.event !== "undone") {
        left.push(each);
        continue;
      }
      const at = left.findLastIndex((other) => other.event === each.what && subject(other) === subject(each));
      if (at >= 0) left.splice(at, 1);
    }
    return left;
  }

  // Which moves (numbered from 1) are done, and which lines the plan does not know of.
  function progress(lines, data) {
    const liftsOf = new Map(data.frames.map((name) => [name, []]));
    data.moves.forEach((move, place) => liftsOf.get(data.frames[move.frame]).push(place + 1));
    const known = counting(lines.slice(0, knownLines(lines, data.known)));
    const counted = counting(lines);
    const done = new Set();
    // What the plan was made from, and was taken back since.
    const other = known.filter((each) => !counted.includes(each));
    for (const each of counted) {
      if (each.event === "begun" || known.includes(each)) continue;
      const lifts = liftsOf.get(each.frame) || [];
      const fits = lifts.find((number) => !done.has(number) && carriesOut(each, data.moves[number - 1], data));
      if (fits === undefined) other.push(each);
      else done.add(fits);
    }
    return { done, other };
  }

  // How many lines, from the first, a plan made in the middle of the job was made from. Another phone may
  // have none of them, or more between them.
  function knownLines(lines, known) {
    if (!known || !known.lines) return 0;
    const last = lines[known.lines - 1];
    if (last && last.at === known.at) return known.lines;
    return lines.findLastIndex((each) => each.at === known.at) + 1;
  }

  function carriesOut(each, move, data) {
    if (each.event === "stood") return move.do === "stand";
    return each.event === "set aside" && move.do === "set aside" && sameHeap(each.to, data.heaps[move.to]);
  }

  const sameHeap = (where, heap) => where[heap.kind === "pack" ? "pack" : "spot"] === heap.name;

  const whereOf = (heap) => ({ [heap.kind === "pack" ? "pack" : "spot"]: heap.name });

  // Reads a file: the sound lines, and what is wrong with the others. A torn last line is told, not fatal.
  function read(text, data) {
    const lines = [];
    const faults = [];
    if (text.length > LARGEST) return { lines, faults: ["The file is too large to be a journal."] };
    const rows = text.replace(/^\ufeff/, "").split("\n");
    rows.forEach((row, place) => {
      if (!row.trim()) return;
      const torn = place === rows.length - 1;
      let each = null;
      try {
        each = JSON.parse(row);
      } catch {
        faults.push(torn ? "The last line is torn and is left out." : `Line ${place + 1} is not sound JSON.`);
        return;
      }
      const fault = faultOf(each, data);
      if (fault) faults.push(`Line ${place + 1}: ${fault}.`);
      else lines.push(ordered(each));
    });
    const begun = lines.filter((each) => each.event === "begun");
    if (begun.some((each) => each.scenario !== data.scenario)) {
      return { lines: [], faults: [`This is the journal of another house: ${begun[0].scenario}.`] };
    }
    if (begun.some((each) => each.scenario_sha256 !== data.scenario_sha256)) {
      faults.push("The journal was begun with other files of this house.");
    }
    return { lines, faults };
  }

  function ordered(each) {
    const made = {};
    for (const key of ["format", "at", "event", ...FIELDS[each.event], "frame", "pack", "note"]) {
      if (key in each) made[key] = each[key];
    }
    return made;
  }

  function faultOf(each, data) {
    if (typeof each !== "object" || each === null || Array.isArray(each)) return "it is not an object";
    if (each.format !== 1) return "its format is not 1";
    if (typeof each.at !== "string" || !/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)$/.test(each.at)) {
      return "it has no sound time";
    }
    if (Number.isNaN(Date.parse(each.at))) return "it has no sound time";
    if (!Object.hasOwn(FIELDS, each.event)) return "its event is not known";
    const wanted = ["format", "at", "event", ...FIELDS[each.event]];
    const subjects = each.event === "undone" ? ["frame", "pack"] : [];
    const unknown = Object.keys(each).find((key) => ![...wanted, ...subjects, "note"].includes(key));
    if (unknown !== undefined) return `it has a field that ${each.event} does not have`;
    if (wanted.some((key) => !(key in each))) return `a field of ${each.event} is missing`;
    return valueFault(each, data);
  }

  function valueFault(each, data) {
    const number = (value, low, high) => typeof value === "number" && value >= low && value <= high;
    const place = (where) => data.heaps.find((heap) => sameHeap(where, heap));
    if ("note" in each && (typeof each.note !== "string" || each.note.length > NOTE)) return "its remark is too long";
    if ("frame" in each && !data.frames.includes(each.frame)) return "no frame is called so";
    if ("pack" in each && !Object.hasOwn(data.packs, each.pack)) return "no pack is called so";
    if ("to" in each && !(isWhere(each.to, false) && place(each.to))) return "there is no such pack or spot";
    if ("in" in each && !(isWhere(each.in, true) && place(each.in))) return "there is no such pack or spot";
    const where = each.to || each.in;
    if (where && place(where).level !== data.levels[data.frames.indexOf(each.frame)]) return "it lies on another level";
    if ("people" in each && !(Number.isInteger(each.people) && number(each.people, 1, 100))) return "so many people cannot be";
    if ("at_mm" in each) {
      const pair = Array.isArray(each.at_mm) && each.at_mm.length === 2;
      if (!pair || !each.at_mm.every((value) => number(value, -1e8, 1e8))) return "its place is not two numbers";
      if (!number(each.bearing_deg, -360, 360)) return "its direction is not a number of degrees";
    }
    if (each.event === "undone" && !(Object.hasOwn(FIELDS, each.what) && !["undone", "begun"].includes(each.what))) {
      return "what it takes back is not known";
    }
    return null;
  }

  function isWhere(where, layered) {
    if (typeof where !== "object" || where === null) return false;
    const keys = Object.keys(where).sort().join();
    if (keys === "layer,pack") return layered && Number.isInteger(where.layer) && where.layer >= 1 && where.layer <= 1000;
    return keys === "spot" || (keys === "pack" && !layered);
  }

  // Lines of both, each once, in the order of their times; lines of one moment stay in their order.
  function merged(lines, more) {
    const known = new Set(lines.map((each) => JSON.stringify(each)));
    const added = more.filter((each) => !known.has(JSON.stringify(each)));
    const every = [...lines, ...added];
    const timed = every.map((each, place) => ({ each, place, time: Date.parse(each.at) }));
    timed.sort((one, two) => one.time - two.time || one.place - two.place);
    return { lines: timed.map((entry) => entry.each), added: added.length };
  }

  const placeWords = (where) =>
    "spot" in where ? `spot ${where.spot}` : `pack ${where.pack}` + ("layer" in where ? ` layer ${where.layer}` : "");

  function say(each) {
    const about = each.frame || (each.pack ? `pack ${each.pack}` : "crew");
    const words = {
      "begun": () => `Journal begun for ${each.scenario}`,
      "stood": () => `${about} stands`,
      "set aside": () => `${about} set aside on ${placeWords(each.to)}`,
      "missing": () => `${about} is missing`,
      "damaged": () => `${about} is damaged`,
      "found": () => `${about} found in ${placeWords(each.in)}`,
      "landed": () => `${about} lies at x ${each.at_mm[0]}, y ${each.at_mm[1]}, turned ${each.bearing_deg} degrees`,
      "crew": () => `${each.people} people from now on`,
      "undone": () => `taken back: ${about} ${each.what}`,
    };
    return words[each.event]() + (each.note ? ` (${each.note})` : "");
  }

  return { line, write, read, faultOf, counting, progress, merged, say, whereOf };
})();
