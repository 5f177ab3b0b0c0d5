/* The chart recorder: pressures of chosen places over the time that is kept. Curves differ in dash and weight and are named. */
const looks = [["c1", ""], ["c2", "9 4"], ["c3", "3 3"], ["c4", "12 3 2 3"], ["c5", "6 2 2 2 2 2"], ["c6", "16 4"], ["c7", "2 5"], ["c8", "8 3 2 3 2 3"]];
const area = { left: 40, top: 20, right: 0, low: 0, width: 0, height: 220 };
const MOST = 8;        // curves
const POINTS = 400;    // at most on a curve
let recorded = data.plotted.map((each) => ({ ...each }));
let drawnAt = 0;

function mark(tag, values, words) {
  const made = document.createElementNS(SVG, tag);
  for (const [key, value] of Object.entries(values)) made.setAttribute(key, value);
  if (words !== undefined) made.textContent = words;
  return made;
}

/* A round step that gives about so many marks. */
function stride(range, about) {
  const rough = Math.max(range, 1e-6) / about;
  const ten = 10 ** Math.floor(Math.log10(rough));
  return ten * [1, 2, 5, 10].find((each) => each * ten >= rough * 0.999);
}

const gaugeOf = (row, column) => Math.max(0, (row[shelf.pressure + board.given.node[column]] - board.given.ambient) / 1e3);

function record() {
  const room = document.getElementById("plot");
  drawnAt = performance.now();
  if (!plays() || !document.getElementById("curves").offsetParent) return;
  const [size] = units[unit];
  area.width = Math.max(280, room.clientWidth || 600);
  area.right = area.width - 12;
  area.low = area.height - 26;
  const every = Math.max(1, Math.ceil(past.length / POINTS));
  const moments = past.filter((_, place) => place % every === 0 || place === past.length - 1).map(({ row }) => row);
  const from = moments[0][0], span = Math.max(5, moments.at(-1)[0] - from);
  const across = (time) => area.left + (area.right - area.left) * (time - from) / span;
  const kept = recorded.filter(({ at: column }) => board.given.node[column] >= 0);
  let most = size * 10;
  for (const row of moments) for (const { at: column } of kept) most = Math.max(most, gaugeOf(row, column));
  const step = stride(most / size, 5), top = Math.ceil(most / size / step - 1e-9) * step;
  const y = (pressure) => area.low - (area.low - area.top) * pressure / size / top;
  const picture = mark("svg", { viewBox: `0 0 ${area.width} ${area.height}`, role: "img", "aria-label": recordWords(moments, kept) });
  for (let value = 0; value <= top + 1e-9; value += step) {
    const place = y(value * size);
    picture.append(mark("path", { d: `M${area.left} ${place}H${area.right}`, class: value ? "rule" : "rule least" }),
      mark("text", { x: area.left - 6, y: place + 4, "text-anchor": "end", class: "axis" }, String(Math.round(value * 100) / 100)));
  }
  const each = stride(span, Math.max(2, (area.right - area.left) / 90));
  for (let time = Math.ceil(from / each) * each; time <= from + span; time += each) {
    picture.append(mark("text", { x: across(time), y: area.low + 17, "text-anchor": "middle", class: "axis" }, String(Math.round(time * 100) / 100)));
  }
  picture.append(mark("text", { x: area.left, y: 12, class: "axis" }, `${unit}, gauge, predicted; time in s`));
  for (const deed of board.deeds) {
    if (deed.own && deed.at >= from) picture.append(mark("path", { d: `M${across(deed.at)} ${area.top}V${area.low}`, class: "deed" }));
  }
  kept.forEach(({ at: column }, number) => {
    let d = "";
    moments.forEach((row, place) => { d += `${place ? "L" : "M"}${across(row[0]).toFixed(1)} ${y(gaugeOf(row, column)).toFixed(1)}`; });
    const [look, dash] = looks[number % looks.length];
    picture.append(mark("path", { d, class: `curve ${look}`, "stroke-dasharray": dash || "none" }));
  });
  picture.append(mark("path", { d: `M${across(board.row[0]).toFixed(1)} ${area.top}V${area.low}`, class: "cursor" }));
  picture.addEventListener("pointerdown", (event) => {
    const x = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM().inverse()).x;
    halt();
    showAt(from + span * (x - area.left) / (area.right - area.left));
  });
  const key = element("ul", undefined, "key");
  kept.forEach(({ name, at: column }, number) => {
    const [look, dash] = looks[number % looks.length];
    const sign = mark("svg", { width: 30, height: 8, "aria-hidden": "true" });
    sign.append(mark("path", { d: "M0 4H30", class: `curve ${look}`, "stroke-dasharray": dash || "none" }));
    const entry = element("li");
    entry.append(sign, element("span", name), element("b", written(liveAt(column)), "now"));
    key.append(entry);
  });
  room.replaceChildren(picture, key);
}

/* The chart in words. */
function recordWords(moments, kept) {
  const ends = kept.map(({ name, at: column }) => {
    const course = moments.map((row) => gaugeOf(row, column));
    return `${name} from ${bare(course[0])} to ${bare(course.at(-1))}, lowest ${bare(Math.min(...course))}, highest ${bare(Math.max(...course))} ${unit}`;
  });
  return `Pressures from ${clockWords(moments[0][0])} to ${clockWords(moments.at(-1)[0])}: ${ends.join("; ")}`;
}

/* Which places are recorded. */
function setPlaces() {
  const room = document.querySelector("#places div");
  room.replaceChildren(...Object.values(data.spaces).filter(([column]) => board.given.node[column] >= 0).map(([column, name]) => {
    const box = element("label", undefined, "place"), tick = element("input");
    tick.type = "checkbox";
    tick.checked = recorded.some((each) => each.at === column);
    tick.addEventListener("change", () => {
      recorded = recorded.filter((each) => each.at !== column);
      if (tick.checked) recorded = [...recorded, { at: column, name }].slice(-MOST);
      for (const other of room.querySelectorAll("input")) other.checked = recorded.some((each) => each.at === Number(other.value));
      record();
    });
    tick.value = column;
    box.append(tick, name);
    return box;
  }));
}
