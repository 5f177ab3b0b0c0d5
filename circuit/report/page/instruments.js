/* Dials for reservoirs, bars for chambers and what their rods do. Every value is written, too. */
const dials = document.getElementById("dials");
const bars = document.getElementById("bars");
const SWEEP = 250;  // degrees from nothing to the end of the scale
const tops = { psi: 150, bar: 10 };
let needles = [];
let gauges = [];
let pushes = [];

/* The end of every scale in the unit: what is the most anywhere, rounded up to a whole mark. */
function topOf() {
  const step = unit === "psi" ? 50 : 2;
  const most = board.given ? Math.max(...board.given.starts[0].pressures.at(-1)) / 1e3 - 101 : 0;
  return Math.max(tops[unit], Math.ceil(most / units[unit][0] / step) * step);
}

const angleOf = (share) => (-SWEEP / 2 + SWEEP * Math.min(1, Math.max(0, share))) * Math.PI / 180;

function onCircle(share, radius) {
  const angle = angleOf(share);
  return [50 + radius * Math.sin(angle), 44 - radius * Math.cos(angle)];
}

function arc(from, to, radius) {
  const [x0, y0] = onCircle(from, radius), [x1, y1] = onCircle(to, radius);
  return `M${x0.toFixed(2)} ${y0.toFixed(2)}A${radius} ${radius} 0 ${(to - from) * SWEEP > 180 ? 1 : 0} 1 ${x1.toFixed(2)} ${y1.toFixed(2)}`;
}

function dial(given, top) {
  const picture = mark("svg", { viewBox: "0 0 100 86", role: "img" });
  picture.append(mark("path", { d: arc(0, 1, 38), class: "rim" }));
  const step = unit === "psi" ? 50 : 2;
  for (let value = 0; value <= top; value += step / 2) {
    const long = value % step === 0;
    const [x0, y0] = onCircle(value / top, 38), [x1, y1] = onCircle(value / top, long ? 31.5 : 35);
    picture.append(mark("path", { d: `M${x0} ${y0}L${x1} ${y1}`, class: "scale" }));
    if (long) {
      const [x, y] = onCircle(value / top, 24.5);
      picture.append(mark("text", { x, y: y + 2.6, class: "figure" }, String(value)));
    }
  }
  if (given.warns !== null) {
    const share = given.warns / units[unit][0] / top;
    picture.append(mark("path", { d: arc(0, share, 41.5), class: "low" }));
  }
  const needle = mark("path", { d: "M-1.6 5L0 -34L1.6 5Z", class: "needle" });
  picture.append(needle, mark("circle", { cx: 50, cy: 44, r: 3.4, class: "hub" }));
  const value = mark("text", { x: 50, y: 81, class: "value" }, "");
  picture.append(value);
  const box = element("figure", undefined, "dial");
  const words = element("figcaption");
  words.append(element("b", broken(given.name)), element("span", given.role));
  box.append(picture, words);
  pointing(box, given.name);
  needles.push([given, needle, value, picture, top]);
  return box;
}

/* A name that may be broken behind the vehicle's. */
const broken = (name) => name.replace(".", ".\u200b");

function setInstruments() {
  needles = [];
  gauges = [];
  pushes = [];
  const top = topOf();
  dials.replaceChildren(...data.dials.map((each) => dial(each, top)));
  const table = element("table");
  table.createCaption().textContent = `Brake chambers, ${unit}`;
  const head = table.createTHead().insertRow();
  for (const words of ["chamber", "service", "", "spring", ""]) {
    const cell = element("th", words);
    if (words) { cell.scope = "col"; cell.colSpan = words === "chamber" ? 1 : 2; head.append(cell); }
  }
  for (const words of ["rod mm", "push kN", "torque kN m", "at tyre kN"]) {
    const cell = element("th", words);
    cell.scope = "col";
    head.append(cell);
  }
  const body = table.createTBody();
  for (const each of data.bars) {
    const line = body.insertRow();
    const name = element("th", broken(each.name));
    name.scope = "row";
    line.append(name);
    for (const [key, place] of [["service", each.service], ["spring", each.spring]]) {
      const room = line.insertCell(), cell = line.insertCell();
      cell.className = "number";
      if (place === null) continue;
      const bar = element("span", undefined, `bar-${key}`);
      const track = element("span", undefined, "track");
      track.append(bar);
      if (key === "spring") {
        const off = element("span", undefined, "off-at");
        off.style.left = `${Math.min(100, 100 * each.off / units[unit][0] / top)}%`;
        track.append(off);
      }
      room.append(track);
      gauges.push([place, bar, cell, top]);
    }
    if (data.wheels[each.name]) {
      const cells = [0, 1, 2, 3].map(() => line.insertCell());
      for (const cell of cells) cell.className = "number";
      pushes.push({ name: each.name, cells, says: "" });
    }
    pointing(line, each.name);
  }
  if (!data.bars.some((each) => each.spring !== null)) table.classList.add("no-springs");
  bars.replaceChildren(...(data.bars.length ? [table] : []));
}

function pointing(box, name) {
  box.addEventListener("pointerenter", () => light([name]));
  box.addEventListener("click", () => choosePart(name));
  box.addEventListener("pointerleave", () => light([]));
}

const isLit = (lamp) => {
  const pressure = pressureAt(lamp.at);
  return lamp.below === undefined ? pressure > lamp.above : pressure < lamp.below;
};

/* Write what the instruments read now. */
function readInstruments() {
  if (!plays()) return;
  for (const each of needles) {
    const [given, needle, value, picture, top] = each;
    const pressure = pressureAt(given.at), says = written(pressure);
    needle.setAttribute("transform", `translate(50 44) rotate(${(angleOf(pressure / units[unit][0] / top) * 180 / Math.PI).toFixed(2)})`);
    if (each.says === says) continue;
    each.says = says;
    value.textContent = says;
    picture.setAttribute("aria-label", `${given.name}, ${given.role} reservoir: ${says}`
      + (given.warns !== null && pressure < given.warns ? ", below its warning" : ""));
  }
  for (const each of gauges) {
    const [place, bar, cell, top] = each;
    const pressure = pressureAt(place), says = bare(pressure);
    if (each.says === says) continue;
    each.says = says;
    bar.style.width = `${Math.min(100, 100 * pressure / units[unit][0] / top)}%`;
    cell.textContent = says;
  }
  for (const each of pushes) {
    const { travel, force, torque, tyre } = pushAt(each.name);
    const says = [(travel * 1e3).toFixed(0), (force / 1e3).toFixed(1), torque === null ? "" : (torque / 1e3).toFixed(1),
      tyre === null ? "" : (tyre / 1e3).toFixed(1)];
    if (each.says === says.join()) continue;
    each.says = says.join();
    says.forEach((words, number) => { each.cells[number].textContent = words; });
  }
}
