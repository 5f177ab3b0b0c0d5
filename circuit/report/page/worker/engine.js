"use strict";
/* The engine in a worker: the compiled kernel, its memory, and what hands and failures do to it. It goes by the rules of
   `circuit/sim/session.py`. Pressures are absolute Pa, times s. */
let given, kernel, memory;
let now = 0;
let courses = new Map();   // input: moments [s, value, 1/s]
let standing = new Map();  // input: the moment that it has been put to
let held = new Map();      // input: what a failure holds it at
let untouched = {};        // rows as they were without a failure
let spare = {};            // the elements of all failures
const DONE = 0, FULL = 1, HELD_SHUT = 2;

async function inflated(words) {
  const bytes = Uint8Array.from(atob(words), (letter) => letter.charCodeAt(0));
  return new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"))).arrayBuffer();
}

/* A row of the memory, or one number of it as a row. */
const numbers = (at, count) => new Float64Array(memory.buffer, at, count);
const wholes = (at, count) => new Int32Array(memory.buffer, at, count);
const room = (name, count) => numbers(given.at.room[name], count);
const row = (name) => (given.whole.includes(name) ? wholes : numbers)(given.at.a[name], given.sizes[name] ?? given.elements);

async function open(words) {
  given = JSON.parse(new TextDecoder().decode(await inflated(words)));
  const pages = Math.ceil(given.size / 65536) + 1;
  memory = new WebAssembly.Memory({ initial: pages });
  const { instance } = await WebAssembly.instantiate(await inflated(given.code), { host: { memory } });
  kernel = instance.exports;
  new Uint8Array(memory.buffer).set(new Uint8Array(await inflated(given.image)));
  for (const name of Object.keys(given.sizes)) untouched[name] = row(name).slice();
  for (const name of given.tail) spare[name] = row(name).slice(given.own);
  wholes(given.at.room.entered, 1)[0] = 1;
  apply({ failures: [], leaks: [], turned: [] });
}

/* --- hands ------------------------------------------------------------------------------------------------------- */

const latest = (moments, time) => moments.findLast((moment) => moment[0] <= time);

/* An input as it is on its way now. */
function valueOf(slot) {
  const moments = courses.get(slot);
  if (!moments) return room("input", slot + 1)[slot];
  const [time, value, rate] = latest(moments, now);
  return value + rate * (now - time);
}

/* From now on an input goes towards a value, whatever was under way. */
function go(slot, to, over) {
  const value = valueOf(slot);
  const moments = (courses.get(slot) || [[0, value, 0]]).filter(([time]) => time < now);
  if (over > 0) moments.push([now, value, (to - value) / over], [now + over, to, 0]);
  else moments.push([now, to, 0]);
  courses.set(slot, moments.slice(-3));
}

/* Inputs as hands have put them by now. until: when they change next. */
function stand(until) {
  kernel.carry_on(given.arrays, given.room);
  const values = room("input", given.inputs.length), rates = room("rate", given.inputs.length);
  let moved = false;
  for (const [slot, moments] of courses) {
    const moment = latest(moments, now);
    if (held.has(slot) || standing.get(slot) === moment) continue;
    standing.set(slot, moment);
    values[slot] = moment[1] + moment[2] * (now - moment[0]);
    rates[slot] = moment[2];
    moved = true;
  }
  if (moved) room("step", 1)[0] = given.first_step;
  kernel.refresh(given.arrays, given.room, until);
}

/* --- what has failed, leaks or is turned ------------------------------------------------------------------------- */

/* condition: failures as [number, size], leaks as [node, m2], turned as [number, SI]. */
function apply(condition) {
  const rows = Object.fromEntries(Object.entries(untouched).map(([name, values]) => [name, values.slice()]));
  const adds = new Map();
  const holds = new Map();
  rows.el_flow.fill(0, given.own);
  for (const [number] of condition.failures) for (const [name, place, more] of given.failures[number][2].drifts) rows[name][place] += more;
  for (const [number, size] of condition.failures) {
    const { modes, flows, adds: more, held: kept } = given.failures[number][2];
    for (const [element, mode] of modes) {
      if (mode === HELD_SHUT && size < 1 && !more.length) rows.el_flow[element] *= 1 - size;
      else {
        rows.el_mode[element] = mode;
        if (mode === HELD_SHUT) rows.el_flow[element] = 0;
      }
    }
    for (const [element, share] of flows) rows.el_flow[element] *= share;
    for (const place of more) adds.set(place, (adds.get(place) || 0) + size);
    for (const [slot, value] of kept) holds.set(slot, value);
  }
  for (const [node, area] of condition.leaks) adds.set(given.leaks[node], (adds.get(given.leaks[node]) || 0) + area);
  for (const [number, value] of condition.turned) {
    const [, , stood, moves] = given.turns[number];
    for (const [name, place, rise] of moves) rows[name][place] += rise * (value - stood);
  }
  rows.la_slot.forEach((slot, number) => { if (holds.has(slot)) rows.la_live[number] = 0; });
  const held0 = room("held", given.nodes), per = row("nd_per");
  rows.nd_per.forEach((fresh, node) => { if (fresh && per[node] !== fresh) held0[node] *= per[node] / fresh; });  // room taken leaves the pressure
  for (const [name, values] of Object.entries(rows)) row(name).set(values);
  append([...adds].filter(([, size]) => size > 0));
  for (const slot of held.keys()) if (!holds.has(slot)) standing.delete(slot);
  held = holds;
  const values = room("input", given.inputs.length);
  for (const [slot, value] of held) values[slot] = value;
  room("step", 1)[0] = given.first_step;
}

let appended = [];
/* Puts the elements that are needed behind the circuit's own. */
function append(adds) {
  for (const name of given.tail) {
    const values = row(name);
    adds.forEach(([place, size], number) => {
      values[given.own + number] = name === "el_flow" ? spare[name][place] * size : spare[name][place];
    });
  }
  const odd = given.odd.filter((element) => element < given.own);
  adds.forEach(([place], number) => { if (given.odd.includes(given.own + place)) odd.push(given.own + number); });
  row("el_odd").set(odd);
  wholes(given.at.a.odds, 1)[0] = odd.length;
  wholes(given.at.a.elements, 1)[0] = given.own + adds.length;
  appended = adds.map(([place]) => place);
}

/* --- time --------------------------------------------------------------------------------------------------------- */

/* Goes on to a time. Returns the status and the latches that turned, [s, number, value]. */
function run(end) {
  const turned = [];
  let status = DONE;
  while (now < end && status === DONE) {
    let until = end;
    for (const moments of courses.values()) for (const [time] of moments) if (time > now && time < until) until = time;
    stand(until);
    do {
      wholes(given.at.room.records, 1)[0] = 0;
      status = kernel.frame(given.arrays, given.room, given.method, until, given.tolerance);
    } while (status === FULL);
    const happened = Math.min(wholes(given.at.room.happened, 1)[0], 4000);
    const events = room("events", 3 * happened);
    for (let place = 0; place < 3 * happened; place += 3) turned.push([events[place], events[place + 1], events[place + 2]]);
    wholes(given.at.room.happened, 1)[0] = 0;
    now = room("t", 1)[0];
  }
  for (const name of ["taken", "refused", "forced"]) wholes(given.at.room[name], 1)[0] = 0;
  return [status, turned];
}

/* The flows as everything stands now, for a board that is held still. */
function look() {
  stand(now + 1);
  kernel.flows(given.arrays, given.room, given.at.room.pressure, 0);
}

/* Everything of this moment as one row: time, step, pressures, inputs, rates, latches, then how open the elements are, what
   flows in them in kg/s, and by how many Pa they are pushed; last what flows in the elements of failures. */
function snapshot() {
  kernel.carry_on(given.arrays, given.room);
  const { nodes, own } = given, inputs = given.inputs.length, latches = given.latches.length;
  const all = new Float64Array(2 + nodes + 2 * inputs + latches + 3 * own + spare.el_a.length);
  const opened = room("opened", own + appended.length), full = room("full", own + appended.length), scale = room("scale", own);
  all.set([now, room("step", 1)[0]]);
  all.set(room("pressure", nodes), 2);
  all.set(room("input", inputs), 2 + nodes);
  all.set(room("rate", inputs), 2 + nodes + inputs);
  all.set(room("turned", latches), 2 + nodes + 2 * inputs);
  let at = 2 + nodes + 2 * inputs + latches;
  for (let e = 0; e < own; e++) all[at + e] = scale[e] > 0 ? opened[e] : 0;
  at += own;
  for (let e = 0; e < own; e++) all[at + e] = full[e] * opened[e];
  all.set(room("push", own), at + own);
  at += 2 * own;
  appended.forEach((place, number) => { all[at + place] = full[own + number] * opened[own + number]; });
  return all;
}

/* What inputs are still going to do: [input, moments]. */
const pending = () => [...courses].map(([slot, moments]) => [slot, moments.filter(([time]) => time > now)])
  .filter(([slot, moments]) => moments.length && !given.latches.includes(slot));

/* The air that each space holds at its pressure. */
function hold(pressures) {
  const starts = row("nd_start"), from = row("pc_pressure"), air = room("held", given.nodes);
  const [c0, c1, c2, c3, c4] = ["pc_held", "pc_1", "pc_2", "pc_3", "pc_4"].map(row);
  pressures.forEach((pressure, node) => {
    let piece = starts[node];
    while (piece < starts[node + 1] - 1 && from[piece + 1] <= pressure) piece++;
    const q = pressure - from[piece];
    air[node] = c0[piece] + q * (c1[piece] + q * (c2[piece] + q * (c3[piece] + q * c4[piece])));
  });
}

/* Everything as it stood: inputs, pressures and latches. */
function restore(time, pressures, inputs, rates, latches, step, pending = []) {
  now = time;
  for (const [name, value] of [["t", time], ["since", time], ["step", step]]) room(name, 1)[0] = value;
  room("pressure", given.nodes).set(pressures);
  hold(pressures);
  room("input", given.inputs.length).set(inputs);
  room("rate", given.inputs.length).set(rates);
  room("turned", given.latches.length).set(latches);
  courses = new Map([...inputs].map((value, slot) => [slot, [[time, value, rates[slot]]]]));
  for (const slot of given.latches) courses.delete(slot);
  for (const [slot, moments] of pending) courses.set(slot, [...courses.get(slot), ...moments]);
  standing = new Map([...courses].map(([slot, moments]) => [slot, moments[0]]));
}

/* --- what the page asks for --------------------------------------------------------------------------------------- */

const asked = {
  async open({ words }) {
    await open(words);
    const { code, image, ...rest } = given;
    return { given: rest };
  },
  begin({ pressures, inputs, condition }) {
    apply(condition);
    restore(0, pressures, inputs, inputs.map(() => 0), given.latches.map(() => -1e9), given.first_step);
    courses = new Map();
    standing = new Map();
    for (const [slot, value] of held) room("input", slot + 1)[slot] = value;
    look();
    return {};
  },
  restore({ row: all, condition, pending: later }) {
    const { nodes } = given, inputs = given.inputs.length;
    const part = (from, count) => all.slice(from, from + count);
    apply(condition);
    restore(all[0], part(2, nodes), part(2 + nodes, inputs), part(2 + nodes + inputs, inputs),
      part(2 + nodes + 2 * inputs, given.latches.length), all[1], later);
    look();
    return {};
  },
  /* moves: [input, value, s]. condition: what has failed from now on, where that has changed. */
  move({ moves, condition }) {
    if (condition) apply(condition);
    for (const [slot, to, over] of moves) go(slot, to, over);
    look();
    return {};
  },
  run({ seconds }) {
    const begun = performance.now();
    const [status, turned] = run(now + seconds);
    return { status, turned, took: performance.now() - begun };
  },
};

let line = Promise.resolve();
onmessage = ({ data }) => {
  line = line.then(async () => {
    try {
      const answer = await asked[data.what](data);
      const shown = snapshot();
      postMessage({ what: data.what, number: data.number, shown, pending: pending(), ...answer }, [shown.buffer]);
    } catch (trouble) {
      postMessage({ what: data.what, number: data.number, trouble: String(trouble.message || trouble) });
    }
  });
};
