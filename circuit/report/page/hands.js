/* The hands: pedals, knobs, cocks, the engine. Each is worked by the pointer and by keys, and says how it stands. */
const handsRoom = document.getElementById("hands");
const worked = [];   // functions that write how each hand stands now
const wished = new Map();
let sending = false;

const handName = (hand) => (hand.part ? `${hand.part} ${hand.label}` : hand.label);

/* Moves that follow each other quickly: the last one of each hand is sent when the engine is free. */
async function wish(key, deed) {
  wished.set(key, deed);
  if (sending) return;
  sending = true;
  while (wished.size) {
    const [first] = wished.keys();
    const next = wished.get(first);
    wished.delete(first);
    await act(next);
  }
  sending = false;
}

/* A hand put to one of its ways. */
function put(hand, number) {
  const [says, trial, moves] = hand.ways[number];
  return act({ moves, trial, says: `${handName(hand)}: ${says}` });
}

const percent = (value) => `${Math.round(value * 100)} %`;

/* A hand that goes by degrees, put to a value. */
function putTo(hand, value) {
  const over = Math.max(...hand.ways[0][2].map(([, , takes]) => takes), 0);
  return wish(handName(hand), {
    moves: hand.ways[0][2].map(([slot, to]) => (slot === hand.slot ? [slot, value, over] : [slot, to, 0])),
    trial: `${hand.trial} ${percent(value)}`, says: `${handName(hand)}: ${percent(value)}`,
  });
}

/* A line that is fed from outside. value: gauge kPa. */
function feedTo(hand, value) {
  return wish(handName(hand), {
    moves: hand.ways[0][2].map(([slot, to, over]) => (slot === hand.slot ? [slot, board.given.ambient + value * 1e3, 0] : [slot, to, over])),
    trial: `${hand.trial} ${(value / 100).toFixed(4)} bar`, says: `${handName(hand)} fed with ${written(value)}`,
  });
}

/* Where a hand stands, or is on its way to. */
const standsAt = (hand) => past[at].pending.find(([slot]) => slot === hand.slot)?.[1].at(-1)[1] ?? board.row[shelf.input + hand.slot];

function slider(hand, attributes, put, read, words) {
  const box = element("label", undefined, `hand ${hand.sort}`);
  const range = element("input");
  Object.assign(range, { type: "range", ...attributes });
  range.setAttribute("aria-label", handName(hand));
  const said = element("output");
  box.append(element("span", handName(hand)), range, said);
  range.addEventListener("input", () => put(Number(range.value)));
  if (hand.sort === "pedal") springs(range, put);
  worked.push(() => {
    const value = read();
    if (document.activeElement !== range || !range.matches(":active")) range.value = value;
    const told = words(value);
    said.textContent = told;
    range.setAttribute("aria-valuetext", told);
  });
  return box;
}

/* A pedal springs back when the pointer lets it go, unless it is to stay. */
function springs(range, put) {
  range.addEventListener("pointerup", () => {
    if (!document.getElementById("hold").checked) { range.value = 0; put(0); }
  });
}

function knob(hand) {
  const box = element("div", undefined, "hand knob");
  const button = element("button");
  button.type = "button";
  box.append(button);
  const state = () => (standsAt(hand) >= 0.5 ? 1 : 0);
  button.addEventListener("click", () => put(hand, 1 - state()));
  worked.push(() => {
    const says = hand.ways[state()][0];
    if (button.textContent !== `${handName(hand)}: ${says}`) button.replaceChildren(`${handName(hand)}: `, element("b", says));
    button.setAttribute("aria-pressed", String(Boolean(state())));
  });
  return box;
}

function choiceOf(hand) {
  const box = element("label", undefined, "hand choice");
  const select = element("select");
  select.append(...hand.ways.map(([says], number) => { const made = element("option", says); made.value = number; return made; }));
  box.append(element("span", handName(hand)), select);
  select.addEventListener("change", () => put(hand, Number(select.value)));
  worked.push(() => { select.value = hand.ways.findIndex(([, , moves]) => Math.abs(moves[0][1] - standsAt(hand)) < 0.01); });
  return box;
}

/* The engine: off and running, and its speed. */
function engineOf(hand) {
  const speed = slider(hand, { min: 0, max: 150, step: 5 }, (value) => wish("engine", {
    moves: hand.ways[1][2].map(([slot]) => [slot, value / 100, 0]),
    trial: value ? `${hand.trial} ${value} %` : hand.ways[0][1], says: value ? `engine at ${value} % of its rated speed` : "engine off",
  }), () => Math.round(standsAt(hand) * 100), (value) => (value ? `${value} % of its rated speed` : "off"));
  return speed;
}

function handOf(hand) {
  if (hand.sort === "knob") return knob(hand);
  if (hand.sort === "choice") return choiceOf(hand);
  if (hand.sort === "engine") return engineOf(hand);
  if (hand.sort === "feed") {
    return slider(hand, { min: 0, max: hand.high / 1e3, step: 5 }, (value) => feedTo(hand, value),
      () => (standsAt(hand) - board.given.ambient) / 1e3, (value) => written(Math.max(0, value)));
  }
  return slider(hand, { min: hand.low * 100, max: hand.high * 100, step: 1 }, (value) => putTo(hand, value / 100),
    () => Math.round(standsAt(hand) * 100), (value) => `${Math.round(value)} %`);
}

/* The hands of a driver stand on the strip, those of a part are with the part. */
const isDrivers = (hand) => ["pedal", "engine", "feed"].includes(hand.sort) || hand.driver;

function setHands() {
  const stays = element("label", undefined, "hand");
  const tick = element("input");
  Object.assign(tick, { type: "checkbox", id: "hold" });
  stays.append(tick, element("span", "pedal stays"));
  const own = board.given.hands.filter(isDrivers);
  handsRoom.replaceChildren(...own.map(handOf), ...(own.some((hand) => hand.sort === "pedal") ? [stays] : []));
  const write = () => { for (const each of worked) each(); };
  board.onframe(write);
  write();
}

/* --- hands on the drawing ------------------------------------------------------------------------------------------- */

const handsOn = (name) => board.given.hands.filter((hand) => hand.part === name);
const isTurnedOver = (hand) => hand.sort === "knob";
const byDegrees = (hand) => hand.sort === "pedal" || hand.sort === "slide";

/* Works a part that has but one thing to be put over. */
function workPart(name) {
  const [only, ...more] = handsOn(name).filter(isTurnedOver);
  if (!only || more.length) return false;
  put(only, standsAt(only) >= 0.5 ? 0 : 1);
  return true;
}

/* A pedal or a lever is pulled down on its picture: 90 px are all of it. */
let pulled = null;
sheet.addEventListener("pointerdown", (event) => {
  const name = named(event);
  const hand = name && board.given ? handsOn(name).find(byDegrees) : null;
  if (!hand || event.button > 0) return;
  event.stopPropagation();
  event.preventDefault();
  pulled = { hand, from: event.clientY, stood: standsAt(hand), moved: false };
  sheet.setPointerCapture(event.pointerId);
});
sheet.addEventListener("pointermove", (event) => {
  if (!pulled) return;
  const share = pulled.stood + (event.clientY - pulled.from) / 90;
  if (Math.abs(event.clientY - pulled.from) > 3) pulled.moved = true;
  if (pulled.moved) putTo(pulled.hand, Math.round(100 * Math.min(pulled.hand.high, Math.max(pulled.hand.low, share))) / 100);
});
for (const end of ["pointerup", "pointercancel"]) {
  sheet.addEventListener(end, () => {
    if (!pulled) return;
    const { hand, moved: was } = pulled;
    pulled = null;
    if (was && hand.sort === "pedal" && !document.getElementById("hold").checked) putTo(hand, 0);
    if (!was) choosePart(hand.part);
  });
}
