/* The air: what is shown colours the schematic and writes pressures on it. Inside, pressures are gauge kPa. */
const units = { psi: [6.894757293, 0], bar: [100, 1] };
let unit = data.unit;
let state = null;
let scene = null;
let moment = 0;

/* Gauge kPa in a column of the data, or null where only the circuits are shown. */
function pressureAt(place) {
  if (playsLive()) return liveAt(place);
  if (state) return state.level[place];
  return scene ? scene.courses[place][moment] : null;
}

const playsLive = () => mode === "live" && board.row !== null;

function pressureIn(space) {
  const place = data.spaces[space]?.[0];
  return place === undefined ? null : pressureAt(place);
}

function bare(pressure) {
  const [size, places] = units[unit];
  return (pressure / size).toFixed(places);
}

const written = (pressure) => (pressure === null ? null : `${bare(pressure)} ${unit}`);

/* Where the time stands, in words. */
function timeWords() {
  if (playsLive()) return clockWords(board.row[0]);
  if (!scene) return "";
  return scene.words ? scene.words[moment] : clockWords(scene.times[moment]);
}

function stateTitle() {
  if (playsLive()) return `on the board, ${timeWords()}`;
  if (state) return state.title.toLowerCase();
  return scene ? `${scene.title}, ${timeWords()}` : "";
}

function band(pressure) {
  let found = data.bands[0];
  for (const each of data.bands) if (pressure >= each[0]) found = each;
  return found;
}

const airs = [...sheet.querySelectorAll(".air")].map((path) => [path, path.dataset.ends.split(" ")]);
const pills = [...sheet.querySelectorAll(".pill")].map((pill) => [pill.querySelector("rect"), pill.querySelector("text"), pill.dataset.space]);

/* Colour the schematic by what is shown now. */
function colour() {
  const on = Boolean(state || scene || playsLive());
  sheet.classList.toggle("by-pressure", on);
  document.querySelector(".bands").hidden = !on;
  document.getElementById("by-circuit").hidden = on;
  bound(on ? "pressure" : "circuits");
  if (on) {
    for (const [path, [one, other]] of airs) {
      const [, ink, weight, dash] = band(((pressureIn(one) ?? 0) + (pressureIn(other) ?? 0)) / 2);
      path.setAttribute("stroke", ink);
      path.setAttribute("stroke-width", weight);
      path.setAttribute("stroke-dasharray", dash || "none");
    }
    for (const [rect, text, space] of pills) {
      const pressure = pressureIn(space) ?? 0;
      const [, ink, , dash] = band(pressure);
      rect.setAttribute("stroke", ink);
      rect.setAttribute("stroke-dasharray", dash ? "1.5 1.5" : "none");
      text.textContent = bare(pressure);
    }
  }
  readInstruments();
  if (shown) tell(shown);
}
