/* The control strip: what is shown, and the time that plays. */
const strip = document.getElementById("strip");
const choice = document.getElementById("choice");
const filter = document.getElementById("fault-filter");
const slide = document.getElementById("slide");
const clock = document.getElementById("clock");
const playing = document.getElementById("play");
const pace = document.getElementById("pace");
const story = document.getElementById("story");
const still = matchMedia("(prefers-reduced-motion: reduce)");
const EVEN = 16;  // frames a second where every step of time takes as long
let mode = "circuits";
let timer = 0;
let wanted = "";

/* --- what is shown ------------------------------------------------------------------------------------------- */

const groups = {
  rest: () => data.states.map((each) => [`rest-${each.key}`, each.title]),
  play: () => data.scenes.filter((each) => each.group === "play").map((each) => [each.key, each.title]),
  trial: () => data.scenes.filter((each) => each.group === "trial").map((each) => [each.key, each.title]),
};
const letters = { play: "What to play", trial: "Trial", fault: "Fault", rest: "Situation" };

function enter(to, key) {
  if (to !== "live") halt();
  mode = to;
  for (const radio of document.querySelectorAll("input[name=mode]")) radio.checked = radio.value === mode;
  document.getElementById("choosing").hidden = mode === "circuits" || mode === "live";
  document.getElementById("filtering").hidden = mode !== "fault";
  document.getElementById("choice-label").textContent = letters[mode] || letters.play;
  if (mode === "fault") listFaults();
  else choice.replaceChildren(...(groups[mode]?.() || []).map(([value, title]) => option(value, title)));
  if (key) choice.value = key;
  handsRoom.hidden = document.getElementById("holding").hidden = mode !== "live";
  if (mode === "live") return presentLive();
  return present(mode === "circuits" ? "" : choice.value);
}

function option(value, title) {
  const made = element("option", title);
  made.value = value;
  return made;
}

/* The faults that the filter leaves, the worst first, under what they do: those named so, else those of which it is said. */
function listFaults() {
  const words = filter.value.toLowerCase().split(/\s+/).filter(Boolean);
  const { entries, ranks } = data.faults;
  const has = (text) => words.every((word) => text.toLowerCase().includes(word));
  const byName = entries.some((fault) => has(fault.title));
  const found = new Map();
  entries.forEach((fault, number) => {
    if (!has(byName ? fault.title : `${fault.title} ${fault.seen} ${ranks[fault.rank]} ${fault.says[0]}`)) return;
    found.set(fault.rank, [...(found.get(fault.rank) || []), option(`fault-${number}`, fault.title)]);
  });
  const before = choice.value;
  choice.replaceChildren(...[...found].map(([rank, options]) => {
    const group = element("optgroup");
    group.label = ranks[rank];
    group.append(...options);
    return group;
  }));
  const number = choice.options.length;
  document.getElementById("fault-count").textContent = `${number} of ${entries.length}`;
  if ([...choice.options].some((each) => each.value === before)) choice.value = before;
  return before;
}

async function present(key) {
  stop();
  wanted = key;
  if (key && !key.startsWith("rest-")) {
    let found = null;
    try {
      found = await load(key);
    } catch (trouble) {
      story.replaceChildren(element("p", `This browser cannot unpack what was simulated (${trouble.message}); the situations at rest can still be shown.`));
      return;
    }
    if (wanted !== key) return;
    scene = found;
    state = null;
  } else {
    scene = null;
    state = data.states.find((each) => `rest-${each.key}` === key) || null;
  }
  moment = 0;
  slide.max = scene ? scene.times.length - 1 : 1;
  slide.disabled = !scene;
  pace.disabled = !scene || Boolean(scene.words);
  for (const name of ["back", "on"]) document.getElementById(name).disabled = !scene;
  tellStory();
  setMarks();
  document.getElementById("bench").hidden = !scene && !state;
  document.getElementById("curves").hidden = !scene || Boolean(scene.words);
  light([]);
  plot();
  go(0);
  document.getElementById("schematic").dataset.showing = key;
}

/* The board itself: nothing was simulated for it, its hands are there to be worked. */
function presentLive() {
  stop();
  wanted = "";
  scene = null;
  state = null;
  slide.disabled = false;
  pace.disabled = true;
  for (const name of ["back", "on"]) document.getElementById(name).disabled = false;
  story.replaceChildren(element("p", board.trouble || "Press, pull, open: what the air then does is worked out here, and is predicted."));
  document.getElementById("marks").replaceChildren();
  document.getElementById("bench").hidden = false;
  document.getElementById("curves").hidden = true;
  document.getElementById("schematic").dataset.showing = "live";
  light([]);
  drawLive();
}

function drawLive() {
  if (!playsLive()) return;
  slide.max = past.length - 1;
  slide.value = at;
  clock.value = timeWords();
  slide.setAttribute("aria-valuetext", timeWords());
  playing.textContent = board.running ? "Pause" : "Play";
  playing.classList.toggle("running", board.running);
  colour();
}

function tellStory() {
  const words = [];
  if (state) words.push(element("h3", state.title), element("p", `${state.says}. Settled air, predicted.`));
  if (scene) {
    const head = element("h3", scene.title);
    if (scene.rank) head.append(" ", element("span", scene.rank, "rank"));
    words.push(head, element("p", [...scene.says, scene.words ? "Shown at rest, with all the time it needs; not played over time. Predicted." : "Simulated, predicted."].join(" ")));
    if (!scene.complete) words.push(element("p", "The simulation fell short of the accuracy asked for.", "weak"));
    if (scene.expected.length) words.push(expectations());
  }
  story.replaceChildren(...words);
}

/* What a trial expects, each met or not. */
function expectations() {
  const list = element("ul", undefined, "expected");
  for (const [met, place, asked, found] of scene.expected) {
    const entry = element("li", undefined, met === true ? "met" : met === false ? "not-met" : "undecided");
    entry.append(element("b", met === true ? "met" : met === false ? "not met" : "not decided"), ` ${place}: ${asked}; ${found}`);
    list.append(entry);
  }
  return list;
}

/* --- time ---------------------------------------------------------------------------------------------------- */

/* Where a frame stands along the slider: the middle of its thumb. */
const along = (frame) => `calc(var(--thumb) / 2 + (100% - var(--thumb)) * ${frame / (scene.times.length - 1)})`;

function setMarks() {
  const marks = document.getElementById("marks");
  marks.replaceChildren();
  const list = document.querySelector("#happenings ol");
  list.replaceChildren();
  document.getElementById("happenings").hidden = !scene || !scene.happenings.length;
  document.getElementById("taken").hidden = !scene || !scene.notes.length;
  document.getElementById("scene-notes").textContent = scene ? `${scene.notes.join("; ")}.` : "";
  if (!scene) return;
  let free = 0;
  for (const each of scene.happenings) {
    const tick = element("span", undefined, each.own ? "tick own" : "tick");
    tick.style.left = along(each.frame);
    tick.title = `${clockWords(each.at)}: ${each.words}`;
    const share = each.frame / (scene.times.length - 1);
    const room = (each.words.length * 7 + 10) / Math.max(200, slide.clientWidth);
    if (each.own && share >= free && share + room <= 1.02) {
      tick.append(element("span", each.words, "tick-words"));
      free = share + room;
    }
    marks.append(tick);
    const entry = element("li");
    const button = element("button", clockWords(each.at), "at");
    button.type = "button";
    button.addEventListener("click", () => { stop(); go(each.frame); say(); });
    entry.append(button, " ", each.own ? element("b", each.words) : each.words);
    entry.dataset.frame = each.frame;
    list.append(entry);
  }
}

function go(to) {
  moment = Math.min(scene ? scene.times.length - 1 : 0, Math.max(0, to));
  slide.value = moment;
  clock.value = scene ? timeWords() : "";
  slide.setAttribute("aria-valuetext", scene ? timeWords() : "nothing is playing");
  for (const entry of document.querySelectorAll("#happenings li")) entry.classList.toggle("past", Number(entry.dataset.frame) <= moment);
  if (scene) cursor();
  colour();
}

function stop() {
  cancelAnimationFrame(timer);
  clearTimeout(timer);
  timer = 0;
  playing.textContent = "Play";
  playing.classList.remove("running");
}

async function play() {
  if (!scene) await enter(data.scenes.length ? "play" : data.faults ? "fault" : "circuits");
  if (!scene) return;
  const last = scene.times.length - 1;
  if (moment >= last) go(0);
  playing.textContent = "Pause";
  playing.classList.add("running");
  if (still.matches || scene.words) return leap();
  const begun = performance.now(), from = moment, since = scene.times[from], rate = Number(pace.value);
  const tick = (now) => {
    const gone = (now - begun) / 1000;
    let next = Math.floor(from + gone * EVEN);
    if (rate) for (next = moment; next < last && scene.times[next + 1] <= since + gone * rate;) next++;
    if (next !== moment) go(next);
    if (moment >= last) { stop(); return say(); }
    timer = requestAnimationFrame(tick);
  };
  timer = requestAnimationFrame(tick);
}

/* Without motion: from one happening to the next, a second each. */
function leap() {
  const last = scene.times.length - 1;
  const next = scene.words ? moment + 1 : scene.happenings.map((each) => each.frame).find((frame) => frame > moment) ?? last;
  timer = setTimeout(() => {
    go(next);
    if (moment >= last) { stop(); return say(); }
    leap();
  }, 1000);
}

function toggle() {
  if (mode === "live") {
    if (board.running) halt();
    else run();
    return drawLive();
  }
  if (!timer) return play();
  stop();
  say();
}

/* What a screen reader hears when time stands: the time and the pressures that matter. */
let saying = 0;
function say() {
  clearTimeout(saying);
  saying = setTimeout(() => {
    if (!scene && !state) return;
    const dials = data.dials.map((each) => `${each.name} ${bare(pressureAt(each.at))}`);
    const bars = data.bars.map((each) => `${each.name} ${bare(pressureAt(each.service))}`
      + (each.spring === null ? "" : ` and spring ${bare(pressureAt(each.spring))}`));
    const lamps = data.lamps.filter(isLit).map((each) => `${each.name} on`);
    document.getElementById("heard").textContent = `${stateTitle()}: in ${unit}, ${[...dials, ...bars, ...lamps].join(", ")}`;
  }, 350);
}

function by(frames) {
  if (mode === "live") {
    halt();
    if (frames > 0 && at === past.length - 1) goOn(0.05);
    else show(at + frames);
    return;
  }
  stop();
  go(moment + frames);
  say();
}

/* --- hands on it --------------------------------------------------------------------------------------------- */

playing.addEventListener("click", toggle);
document.getElementById("back").addEventListener("click", () => by(-1));
document.getElementById("on").addEventListener("click", () => by(1));
slide.addEventListener("input", () => {
  if (mode === "live") {
    halt();
    return show(Number(slide.value));
  }
  stop();
  go(Number(slide.value));
  say();
});
slide.addEventListener("keydown", (event) => {
  if (event.key === " ") { event.preventDefault(); toggle(); }
});
pace.addEventListener("change", () => { if (timer) { stop(); play(); } });
for (const radio of document.querySelectorAll("input[name=mode]")) {
  radio.addEventListener("change", () => enter(radio.value).then(say));
}
choice.addEventListener("change", () => present(choice.value).then(say));
filter.addEventListener("input", () => {
  const before = listFaults();
  if (choice.options.length && choice.value !== before) present(choice.value);
});
addEventListener("resize", () => { if (scene) { setMarks(); plot(); cursor(); } });
addEventListener("keydown", (event) => {
  const within = event.target.closest?.("button, input, select, textarea, summary, a, [role=button]");
  if (event.key === "Escape" && timer) { stop(); say(); }
  if (within || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === " " && (event.target === view || event.target === document.body)) { event.preventDefault(); toggle(); }
  if (event.target === view && scene && [",", "."].includes(event.key)) by(event.key === "." ? 1 : -1);
});

for (const radio of document.querySelectorAll("input[name=unit]")) {
  radio.checked = radio.value === unit;
  radio.addEventListener("change", () => {
    unit = radio.value;
    for (const words of document.querySelectorAll(".bands [data-psi]")) words.textContent = words.dataset[unit];
    setInstruments();
    plot();
    go(moment);
  });
}

/* A fault named anywhere on the page plays on the schematic. */
for (const button of document.querySelectorAll("button[data-fault]")) {
  button.addEventListener("click", () => playFault(Number(button.dataset.fault)));
}
async function playFault(number, words = "") {
  filter.value = words;
  await enter("fault", `fault-${number}`);
  document.getElementById("schematic").scrollIntoView();
  choice.focus({ preventScroll: true });
  light([data.faults.entries[number].part]);
  say();
}

for (const [name, number] of [["play", groups.play().length], ["trial", groups.trial().length], ["fault", data.faults?.entries.length]]) {
  document.getElementById(`mode-${name}`).hidden = !number;
}
document.getElementById("strip").hidden = false;
setInstruments();
enter("circuits");
document.getElementById("mode-live").hidden = true;
board.ready = startEngine().then((there) => {
  if (!there) return;
  document.getElementById("mode-live").hidden = false;
  setHands();
  board.onframe(drawLive);
  document.querySelector("input[name=mode][value=live]").checked = true;
  return enter("live");
}).catch((trouble) => { board.trouble = `This browser cannot run the engine: ${trouble.message}`; story.textContent = board.trouble; });
