/* The strip: time, what is noticed, what happened, and everything that is set when the engine stands ready. */
const slide = document.getElementById("slide");
const clock = document.getElementById("clock");
const playing = document.getElementById("play");
const pace = document.getElementById("pace");
const story = document.getElementById("story");
const STEP = 0.05;     // s of one step on
const CHART = 120;     // ms from one picture of the chart to the next while it plays

/* The moment next to a time. */
function showAt(time) {
  let place = past.findIndex(({ row }) => row[0] >= time);
  if (place < 0) place = past.length - 1;
  show(place);
}

function setPace(value) {
  const found = [...pace.options].find((each) => Number(each.value) === value) ?? [...pace.options].find((each) => Number(each.value) >= value);
  pace.value = (found ?? pace.options[pace.options.length - 1]).value;
  board.pace = Number(pace.value);
}

function toggle() {
  if (board.running) halt();
  else run();
  drawStrip();
  say();
}

function by(moments) {
  halt();
  if (moments > 0 && at === past.length - 1) goOn(STEP).then(say);
  else show(at + moments);
  say();
}

/* The chart and the list follow the air a little later: at most one picture in a while. */
let chartDue = 0;
function chartSoon() {
  if (chartDue) return;
  chartDue = setTimeout(() => {
    chartDue = 0;
    record();
    listDeeds();
  }, Math.max(0, drawnAt + CHART - performance.now()));
}

const frameTook = [];
/* Everything that is drawn of a moment. */
function draw() {
  const begun = performance.now();
  colour();
  readInstruments();
  seen();
  drawStrip();
  if (chosenPart) { readPart(); tellPressures(); }
  buzz();
  chartSoon();
  frameTook.push(performance.now() - begun);
  if (frameTook.length > 600) frameTook.shift();
}

let stripSays = "";
function drawStrip() {
  slide.min = timeAt(0);
  slide.max = Math.max(timeAt(past.length - 1), timeAt(0) + 0.001);
  slide.value = board.row[0];
  const words = clockWords(board.row[0]);
  clock.value = words;
  slide.setAttribute("aria-valuetext", words);
  const says = board.running ? "Pause" : "Play";
  if (playing.textContent !== says) playing.textContent = says;
  playing.classList.toggle("running", board.running);
  const notice = board.trouble || noticed().join("; ") || "nothing is heard, no lamp is lit";
  if (notice !== stripSays) {
    stripSays = notice;
    document.getElementById("notices").textContent = notice;
  }
}

let listed = -1;
function listDeeds() {
  const marks = document.getElementById("marks"), list = document.querySelector("#happenings ol");
  document.getElementById("happenings").hidden = !board.deeds.length;
  const from = timeAt(0), span = Math.max(0.001, timeAt(past.length - 1) - from);
  const fresh = board.deeds.filter((deed) => deed.at >= from).slice(-80);
  marks.replaceChildren(...fresh.map((deed) => {
    const tick = element("span", undefined, deed.own ? "tick own" : "tick");
    tick.style.left = `calc(var(--thumb) / 2 + (100% - var(--thumb)) * ${(deed.at - from) / span})`;
    return tick;
  }));
  if (listed === board.deeds.length) return;
  listed = board.deeds.length;
  list.replaceChildren(...board.deeds.slice(-80).reverse().map((deed) => {
    const entry = element("li"), button = element("button", clockWords(deed.at), "at");
    button.type = "button";
    button.addEventListener("click", () => { halt(); showAt(deed.at); say(); });
    entry.append(button, deed.says);
    return entry;
  }));
}

/* What a screen reader hears: what has happened since it last heard, and when time stands the pressures that matter. */
let saying = 0;
let heard = 0;
function say() {
  clearTimeout(saying);
  saying = setTimeout(() => {
    if (!plays()) return;
    heard = Math.min(heard, board.deeds.length);
    const fresh = board.deeds.slice(heard).map((deed) => `${clockWords(deed.at)} ${deed.says}`);
    heard = board.deeds.length;
    const dials = board.running ? [] : data.dials.map((each) => `${each.name} ${written(liveAt(each.at))}`);
    const bars = board.running ? [] : data.bars.map((each) => `${each.name} ${written(liveAt(each.service))}`);
    document.getElementById("heard").textContent = [...fresh.slice(-6), ...(board.running ? [] : [clockWords(board.row[0])]), ...dials, ...bars, ...noticed()].join(", ");
  }, 350);
}
let told = 0;
function sayDeeds() {
  if (board.deeds.length === told) return;
  told = board.deeds.length;
  say();
}

/* --- hands on it ----------------------------------------------------------------------------------------------------- */

playing.addEventListener("click", toggle);
document.getElementById("back").addEventListener("click", () => by(-1));
document.getElementById("on").addEventListener("click", () => by(1));
slide.addEventListener("input", () => { halt(); showAt(Number(slide.value)); say(); });
slide.addEventListener("keydown", (event) => {
  const steps = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1 };
  if (event.key === " ") { event.preventDefault(); toggle(); }
  if (steps[event.key]) { event.preventDefault(); halt(); show(at + steps[event.key]); say(); }
});
pace.addEventListener("change", () => { board.pace = Number(pace.value); });
document.getElementById("by-circuit").addEventListener("change", (event) => { byCircuit = event.target.checked; colour(); });
document.getElementById("sound").addEventListener("click", (event) => {
  event.target.setAttribute("aria-pressed", String(event.target.getAttribute("aria-pressed") !== "true"));
  buzz();
});
document.getElementById("copy").addEventListener("click", async () => {
  const words = asTrial();
  try {
    await navigator.clipboard.writeText(words);
    story.textContent = "Copied: put it into the design, and `airwright run` plays it again.";
  } catch {
    story.replaceChildren(element("span", "Copy it from here: "), element("pre", words));
  }
});
addEventListener("keydown", (event) => {
  const within = event.target.closest?.("button, input, select, textarea, summary, a, [role=button]");
  if (event.ctrlKey || event.metaKey || event.altKey || !plays()) return;
  if (event.key === "Escape" && !beside.hidden && !within) letPartGo();
  if (within && !event.target.closest("#view")) return;
  if (event.key === " " && !event.target.closest("[data-name]")) { event.preventDefault(); toggle(); }
  if ([",", "."].includes(event.key)) by(event.key === "." ? 1 : -1);
  const pedal = board.given.hands.find((hand) => hand.sort === "pedal");
  if (pedal && /^[0-9]$/.test(event.key)) putTo(pedal, event.key === "9" ? 1 : Number(event.key) / 10);
});
for (const radio of document.querySelectorAll("input[name=unit]")) {
  radio.checked = radio.value === unit;
  radio.addEventListener("change", () => {
    unit = radio.value;
    for (const words of document.querySelectorAll(".bands [data-psi]")) words.textContent = words.dataset[unit];
    setInstruments();
    if (!plays()) return;
    nameStarts();
    if (chosenPart) { tell(chosenPart); setWorked(chosenPart); }
    stripSays = "";
    draw();
  });
}
addEventListener("resize", () => { if (plays()) record(); });
new ResizeObserver(([entry]) => {
  document.documentElement.style.setProperty("--strip", `${Math.round(entry.borderBoxSize[0].blockSize)}px`);
}).observe(document.getElementById("strip"));

board.ready = startEngine().then((there) => {
  if (!there) return;
  document.getElementById("strip").hidden = document.getElementById("bench").hidden = false;
  document.getElementById("more").open = innerWidth > 640;
  setInstruments();
  setHands();
  setPrepared();
  setPlaces();
  setSeen();
  setSeats();
  board.onframe(draw);
  board.onframe(sayDeeds);
  draw();
  document.getElementById("schematic").dataset.showing = "live";
}).catch((trouble) => {
  document.getElementById("strip").hidden = false;
  story.textContent = `This browser cannot run the engine (${trouble.message}); what was judged can still be read below.`;
});
