/* The air: the moment that is shown colours the schematic and writes pressures on it. Inside, pressures are gauge kPa. */
const units = { psi: [6.894757293, 0], bar: [100, 1] };
let unit = data.unit;

const plays = () => board.row !== null;
const pressureAt = (place) => (plays() ? liveAt(place) : null);

function pressureIn(space) {
  const place = data.spaces[space]?.[0];
  return place === undefined ? null : pressureAt(place);
}

function bare(pressure) {
  const [size, places] = units[unit];
  return (pressure / size).toFixed(places);
}

const written = (pressure) => (pressure === null ? null : `${bare(pressure)} ${unit}`);

/* A time as people write it. */
function clockWords(time) {
  if (time < 120) return `${time.toFixed(2)} s`;
  return `${Math.floor(time / 60)} min ${(time % 60).toFixed(1)} s`;
}

function band(pressure) {
  let found = data.bands[0];
  for (const each of data.bands) if (pressure >= each[0]) found = each;
  return found;
}

const airs = [...sheet.querySelectorAll(".air")].map((path) => ({ path, ends: path.dataset.ends.split(" "), is: null }));
const pills = [...sheet.querySelectorAll(".pill")].map((pill) => ({ rect: pill.querySelector("rect"), text: pill.querySelector("text"), space: pill.dataset.space, is: null, says: "" }));
let byCircuit = false;

/* Colour the schematic by what is shown now; only what has changed is written. */
function colour() {
  const on = plays() && !byCircuit;
  if (sheet.classList.contains("by-pressure") !== on) {
    sheet.classList.toggle("by-pressure", on);
    document.querySelector(".bands").hidden = !on;
    bound(on ? "pressure" : "circuits");
  }
  if (!on) return;
  for (const each of airs) {
    const [one, other] = each.ends;
    const now = band(((pressureIn(one) ?? 0) + (pressureIn(other) ?? 0)) / 2);
    if (each.is === now) continue;
    each.is = now;
    const [, ink, weight, dash] = now;
    each.path.setAttribute("stroke", ink);
    each.path.setAttribute("stroke-width", weight);
    each.path.setAttribute("stroke-dasharray", dash || "none");
  }
  for (const each of pills) {
    const pressure = pressureIn(each.space) ?? 0;
    const now = band(pressure), says = bare(pressure);
    if (each.is !== now) {
      each.is = now;
      each.rect.setAttribute("stroke", now[1]);
      each.rect.setAttribute("stroke-dasharray", now[3] ? "1.5 1.5" : "none");
    }
    if (each.says !== says) {
      each.says = says;
      each.text.textContent = says;
    }
  }
}
