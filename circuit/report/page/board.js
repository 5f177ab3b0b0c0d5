/* The board: the engine in its worker, the moments it has shown, and what others bind to.

   board.part(name) tells of a part at the moment that is shown:
     openings  0 to 1 for each passage of its kind, in the order in which the kind declares them; a pump's own comes last
     flows     kg/s through each, from its start to its end; less than 0 backwards
     pushes    Pa by which each is pushed open; less than 0 is shut; null where nothing pushes it
     pressures gauge kPa by port number
     states    its state variables, such as pedal, pushed or unloading, by name
     settings  the settings as they are turned now, SI, of those that can be turned
     failures  [name, size] of what has failed in it
   board.onframe(function) is called after every moment that is shown, board.onchoose(function) with the name of a part that
   is chosen. `#section` stands beside the drawing and is shown by whoever fills it. */
const board = {
  ready: null, given: null, row: null, condition: { failures: [], leaks: [], turned: [] }, running: false, pace: 1,
  deeds: [], trouble: "", frames: [], chosen: [],
  part: tellOf, onframe: (told) => board.frames.push(told), onchoose: (told) => board.chosen.push(told),
};
const KEPT = 600;    // s that one can go back
const FRESH = 20;    // s of them in every frame that was shown
const APART = 0.1;   // s between those that are older
const LONGEST = 2;   // s that are played at once at most
let worker = null;
let asks = 0;
const answers = new Map();
let past = [];       // moments: row, condition, pending, deeds before it
let at = -1;         // the one that is shown
let shelf = {};      // where each kind of number begins in a row

function ask(what, more = {}) {
  asks += 1;
  worker.postMessage({ what, number: asks, ...more });
  return new Promise((resolve, reject) => answers.set(asks, [resolve, reject]));
}

async function startEngine() {
  const words = document.getElementById("live")?.textContent;
  if (!words?.trim()) return false;
  worker = new Worker(URL.createObjectURL(new Blob([document.getElementById("worker").textContent], { type: "text/javascript" })));
  worker.onmessage = ({ data: told }) => {
    const [resolve, reject] = answers.get(told.number);
    answers.delete(told.number);
    if (told.trouble) reject(new Error(told.trouble));
    else resolve(told);
  };
  const { given } = await ask("open", { words });
  board.given = given;
  const { nodes, own } = given, inputs = given.inputs.length, latches = given.latches.length;
  shelf = { pressure: 2, input: 2 + nodes, opened: 2 + nodes + 2 * inputs + latches };
  shelf.flow = shelf.opened + own;
  shelf.push = shelf.flow + own;
  shelf.extra = shelf.push + own;
  board.slots = new Map(given.inputs.map((name, slot) => [name, slot]));
  board.latch = given.latches.map((slot) => given.inputs[slot]);
  await begin(given.levels.length - 1, "driving");
  return true;
}

/* --- moments ------------------------------------------------------------------------------------------------------- */

/* Begins anew. level: which of the starting pressures. */
async function begin(level, situation, rows = null) {
  const start = board.given.starts.find((each) => each.situation === situation);
  const condition = { failures: [], leaks: [], turned: [] };
  const told = await ask("begin", { pressures: start.pressures.at(level), inputs: start.inputs, condition });
  board.condition = condition;
  board.deeds = [];
  past = [];
  board.began = { level, situation, rows };
  keep(told);
  show(0);
}

function keep(told) {
  past.push({ row: told.shown, condition: board.condition, pending: told.pending, deeds: board.deeds.length });
  if (past.length % 200 === 0) thin();
}

const timeAt = (place) => past[place]?.row[0] ?? 0;

/* Of the older moments some are enough. */
function thin() {
  const last = timeAt(past.length - 1);
  let before = -1;
  past = past.filter(({ row }, place) => {
    const keeps = place === at || row[0] > last - FRESH || row[0] >= before + APART;
    if (keeps) before = row[0];
    return keeps && row[0] > last - KEPT;
  });
  at = past.findIndex(({ row }) => row === board.row);
}

/* Shows a moment. */
function show(place) {
  at = Math.max(0, Math.min(past.length - 1, place));
  board.row = past[at].row;
  board.condition = past[at].condition;
  for (const told of board.frames) told();
}

/* Whoever goes on from an earlier moment leaves what came after it. */
async function fromHere() {
  if (at === past.length - 1) return;
  const { row, condition, pending, deeds } = past[at];
  past.length = at + 1;
  board.deeds.length = deeds;
  dropPrepared();
  await ask("restore", { row, condition, pending });
}

/* --- time ----------------------------------------------------------------------------------------------------------- */

let before = 0;
let owed = 0;        // s that are still to be played
let busy = false;

function tick(moment) {
  if (!board.running) return;
  owed = Math.min(LONGEST, owed + Math.min(0.25, (moment - before) / 1000) * board.pace);
  before = moment;
  if (!busy && owed >= 0.001) {
    const seconds = Math.floor(owed * 1000) / 1000;
    const played = untilDue(seconds);
    owed -= played;
    goOn(played);
  }
  requestAnimationFrame(tick);
}

/* Plays some seconds and shows where that leads. */
async function goOn(seconds) {
  busy = true;
  try {
    await fromHere();
    await playPrepared();
    const told = await ask("run", { seconds });
    board.took = told.took;
    happened(told.turned);
    keep(told);
    show(past.length - 1);
    if (told.status) throw new Error("the engine cannot go on: something flutters, or steps become too small");
  } catch (trouble) {
    halt();
    board.trouble = trouble.message;
    for (const each of board.frames) each();
  }
  busy = false;
}

function run() {
  board.running = true;
  before = performance.now();
  owed = 0;
  requestAnimationFrame(tick);
}

function halt() {
  board.running = false;
}

/* --- what others read ------------------------------------------------------------------------------------------------ */

const inputNow = (name) => (board.slots.has(name) ? board.row[shelf.input + board.slots.get(name)] : null);
const gaugeAt = (node) => (node < 0 ? 0 : (board.row[shelf.pressure + node] - board.given.ambient) / 1e3);

/* Gauge kPa in a column of the data. */
const liveAt = (column) => Math.max(0, gaugeAt(board.given.node[column]));

/* Of the elements of a passage, the one that lets most through. */
const widest = (elements) => elements.reduce((best, e) => (board.row[shelf.opened + e] > board.row[shelf.opened + best] ? e : best), elements[0]);

function tellOf(name) {
  const found = data.parts[name];
  if (!found || !board.row) return null;
  const ways = (board.given.ways[name] || []).map((elements) => (elements.length ? widest(elements) : -1));
  const read = (shelfOf) => ways.map((e) => (e < 0 ? 0 : board.row[shelfOf + e]));
  const begins = `${name} `;
  return {
    openings: read(shelf.opened), flows: read(shelf.flow),
    pushes: ways.map((e) => (e < 0 ? null : board.row[shelf.push + e])),
    pressures: Object.fromEntries(found.ports.map(([number, , space]) => [number, space < 0 ? 0 : liveAt(data.spaces[space][0])])),
    states: Object.fromEntries([...board.slots.keys()].filter((each) => each.startsWith(begins)).map((each) => [each.slice(begins.length), inputNow(each)])),
    settings: Object.fromEntries(board.given.turns.map(([part, setting, value], number) => [part, setting,
      board.condition.turned.find(([each]) => each === number)?.[1] ?? value]).filter(([part]) => part === name).map(([, ...pair]) => pair)),
    failures: board.condition.failures.filter(([number]) => board.given.failures[number][0] === name)
      .map(([number, size]) => [board.given.failures[number][1], size]),
  };
}
