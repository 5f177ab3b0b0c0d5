/* The air: situations and scenes colour the schematic and write pressures on it. Inside, pressures are gauge kPa. */
const units = { psi: [6.894757293, 0], bar: [100, 1] };
let unit = data.unit;
let state = null;
let scene = null;
let moment = 0;
let timer = 0;

const column = (space) => data.spaces[space]?.[0];

function pressureIn(space) {
  const place = column(space);
  if (place === undefined) return null;
  if (state) return state.level[place];
  if (!scene) return null;
  const curve = scene.curves[place];
  return typeof curve === "number" ? curve : curve[moment];
}

function written(pressure) {
  if (pressure === null) return null;
  return `${bare(pressure)} ${unit}`;
}

function bare(pressure) {
  const [size, places] = units[unit];
  return (pressure / size).toFixed(places);
}

function stateTitle() {
  if (state) return state.title.toLowerCase();
  return scene ? `${scene.title.toLowerCase()}, ${time().toFixed(2)} s` : "";
}

const time = () => scene.end * moment / scene.frames;

function band(pressure) {
  let found = data.bands[0];
  for (const each of data.bands) if (pressure >= each[0]) found = each;
  return found;
}

const airs = [...sheet.querySelectorAll(".air")].map((path) => [path, path.dataset.ends.split(" ")]);
const pills = [...sheet.querySelectorAll(".pill")].map((pill) => [pill.querySelector("rect"), pill.querySelector("text"), pill.dataset.space]);

function colour() {
  const on = Boolean(state || scene);
  sheet.classList.toggle("by-pressure", on);
  document.querySelector(".bands").hidden = !on;
  bound(on ? "pressure" : "circuits");
  document.getElementById("player").hidden = !scene;
  if (on) {
    for (const [path, [one, other]] of airs) {
      const [, colour, weight, dash] = band(((pressureIn(one) ?? 0) + (pressureIn(other) ?? 0)) / 2);
      path.setAttribute("stroke", colour);
      path.setAttribute("stroke-width", weight);
      path.setAttribute("stroke-dasharray", dash || "none");
    }
    for (const [rect, text, space] of pills) {
      const pressure = pressureIn(space) ?? 0;
      const [, colour, , dash] = band(pressure);
      rect.setAttribute("stroke", colour);
      rect.setAttribute("stroke-dasharray", dash ? "1.5 1.5" : "none");
      text.textContent = bare(pressure);
    }
  }
  if (shown) tell(shown);
}

/* --- which state --------------------------------------------------------------------------------------------- */

const says = document.getElementById("state-says");
const plain = says.textContent;
const slide = document.getElementById("slide");
const clock = document.getElementById("clock");
const playing = document.getElementById("play");

function pick(key) {
  stop();
  state = data.states.find((each) => each.key === key) || null;
  scene = data.scenes.find((each) => `scene-${each.key}` === key) || null;
  moment = 0;
  if (!state && !scene) says.textContent = plain;
  if (state) says.textContent = `${state.title}: ${state.says}. Settled air, predicted; values in ${unit}.`;
  if (scene) {
    says.textContent = `${scene.title}: ${scene.says}. Simulated, predicted; values in ${unit}.`;
    slide.max = scene.frames;
    const list = document.querySelector("#happenings ol");
    list.replaceChildren(...scene.events.map(([at, words]) => element("li", `${at.toFixed(2)} s  ${words}`)));
    document.getElementById("happenings").hidden = !scene.events.length;
    document.getElementById("scene-notes").textContent = (scene.complete ? "" : "The simulation fell short of the accuracy asked for. ")
      + `Taken for this: ${scene.notes.join("; ")}.`;
    document.getElementById("speed").value = scene.end > 100 ? "20" : scene.end > 10 ? "5" : "1";
    plot();
  }
  go(0);
}

function go(to) {
  moment = Math.min(scene ? scene.frames : 0, Math.max(0, to));
  if (scene) {
    slide.value = moment;
    clock.value = `${time().toFixed(2)} s`;
    slide.setAttribute("aria-valuetext", `${time().toFixed(2)} seconds`);
    cursor();
  }
  colour();
}

function stop() {
  cancelAnimationFrame(timer);
  timer = 0;
  playing.textContent = "Play";
  playing.setAttribute("aria-pressed", "false");
}

function play() {
  if (moment >= scene.frames) go(0);
  playing.textContent = "Pause";
  playing.setAttribute("aria-pressed", "true");
  const begun = performance.now(), from = time();
  const tick = (now) => {
    const at = from + (now - begun) / 1000 * Number(document.getElementById("speed").value);
    const next = Math.floor(at / scene.end * scene.frames);
    if (next !== moment) go(next);
    if (moment >= scene.frames) return stop();
    timer = requestAnimationFrame(tick);
  };
  timer = requestAnimationFrame(tick);
}

playing.addEventListener("click", () => (timer ? stop() : play()));
slide.addEventListener("input", () => { stop(); go(Number(slide.value)); });
document.getElementById("speed").addEventListener("change", () => { if (timer) { stop(); play(); } });

const states = document.getElementById("states");
for (const [key, title] of [...data.states.map((each) => [each.key, each.title]), ...data.scenes.map((each) => [`scene-${each.key}`, each.title])]) {
  const label = element("label");
  const radio = element("input");
  Object.assign(radio, { type: "radio", name: "state", value: key });
  label.append(radio, ` ${title.toLowerCase()}`);
  if (key === "scene-" + data.scenes[0]?.key) states.append(element("span", "Play", "sub"));
  states.append(label);
}
states.addEventListener("change", (event) => pick(event.target.value));

for (const radio of document.querySelectorAll("input[name=unit]")) {
  radio.checked = radio.value === unit;
  radio.addEventListener("change", () => {
    unit = radio.value;
    for (const words of document.querySelectorAll(".bands [data-psi]")) words.textContent = words.dataset[unit];
    says.textContent = says.textContent.replace(/values in \w+/, `values in ${unit}`);
    if (scene) plot();
    go(moment);
  });
}
