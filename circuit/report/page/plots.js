/* Pressures over time of a few spaces. Curves differ in dash and weight and are named at their ends, not by colour alone. */
const looks = [
  ["#1b2a6b", ""], ["#a0410d", "9 4"], ["#0a5561", "3 3"], ["#7d2a68", "12 3 2 3"], ["#4f565e", "6 2 2 2 2 2"],
  ["#1d5e33", "16 4"], ["#a80f28", "2 5"], ["#5a4a00", "8 3 2 3 2 3"],
];
const area = { left: 46, top: 14, right: 740, low: 214 };

function mark(tag, values, words) {
  const made = document.createElementNS(SVG, tag);
  for (const [key, value] of Object.entries(values)) made.setAttribute(key, value);
  if (words !== undefined) made.textContent = words;
  return made;
}

/* A round step that gives about so many marks. */
function stride(range, about) {
  const rough = range / about;
  const ten = 10 ** Math.floor(Math.log10(rough));
  return ten * [1, 2, 5, 10].find((each) => each * ten >= rough);
}

/* The curves to be plotted, those that are alike together under all their names. */
function curves() {
  const found = new Map();
  for (const { name, space } of data.plotted) {
    const curve = scene.curves[space];
    const key = JSON.stringify(curve);
    if (found.has(key)) found.get(key)[0] += `, ${name}`;
    else found.set(key, [name, curve]);
  }
  return [...found.values()];
}

const short = (words) => (words.length > 38 ? `${words.slice(0, 37)}\u2026` : words);

const valueAt = (curve, frame) => (typeof curve === "number" ? curve : curve[frame]);

function plot() {
  const [size] = units[unit];
  const chosen = curves();
  const most = Math.max(size * 10, ...chosen.map(([, curve]) => (typeof curve === "number" ? curve : Math.max(...curve)))) / size;
  const step = stride(most, 5), top = Math.ceil(most / step) * step;
  const x = (frame) => area.left + (area.right - area.left) * frame / scene.frames;
  const y = (pressure) => area.low - (area.low - area.top) * pressure / size / top;
  const picture = mark("svg", { viewBox: "0 0 980 250", role: "img", "aria-label": summary(chosen) });
  for (let value = 0; value <= top + 1e-9; value += step) {
    const at = y(value * size);
    picture.append(mark("path", { d: `M${area.left} ${at}H${area.right}`, stroke: "#c4cad1", "stroke-width": value ? 0.7 : 1.4 }));
    picture.append(mark("text", { x: area.left - 6, y: at + 4, "text-anchor": "end", "font-size": 11, fill: "#4f565e" }, String(Math.round(value * 100) / 100)));
  }
  const pace = stride(scene.end, 8);
  for (let at = 0; at <= scene.end + 1e-9; at += pace) {
    const place = area.left + (area.right - area.left) * at / scene.end;
    picture.append(mark("path", { d: `M${place} ${area.low}v4`, stroke: "#4f565e" }));
    picture.append(mark("text", { x: place, y: area.low + 17, "text-anchor": "middle", "font-size": 11, fill: "#4f565e" }, String(Math.round(at * 1000) / 1000)));
  }
  picture.append(mark("text", { x: area.right, y: area.low + 33, "text-anchor": "end", "font-size": 11, fill: "#4f565e" }, "s"));
  picture.append(mark("text", { x: area.left, y: 10, "font-size": 11, fill: "#4f565e" }, `${unit}, gauge, predicted`));
  chosen.forEach(([name, curve], number) => {
    const [ink, dash] = looks[number % looks.length];
    let d = "";
    for (let frame = 0; frame <= scene.frames; frame++) d += `${frame ? "L" : "M"}${x(frame).toFixed(1)} ${y(valueAt(curve, frame)).toFixed(1)}`;
    picture.append(mark("path", { d, fill: "none", stroke: ink, "stroke-width": 1.8, "stroke-dasharray": dash || "none", "stroke-linejoin": "round" }));
    const row = area.top + 12 + number * 25;
    picture.append(mark("path", { d: `M${area.right + 16} ${row - 4}h34`, stroke: ink, "stroke-width": 2, "stroke-dasharray": dash || "none" }));
    picture.append(mark("text", { x: area.right + 56, y: row, "font-size": 11, fill: "#14181c" }, short(name)));
    picture.append(mark("text", { x: area.right + 56, y: row + 12, "font-size": 10.5, fill: "#4f565e", class: "now", "data-curve": number }));
  });
  picture.append(mark("path", { d: `M0 ${area.top}V${area.low}`, stroke: "#14181c", "stroke-width": 1.2, id: "cursor" }));
  picture.addEventListener("click", (event) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM().inverse()).x;
    if (at >= area.left - 5 && at <= area.right + 5) { stop(); go(Math.round((at - area.left) / (area.right - area.left) * scene.frames)); }
  });
  document.getElementById("plot").replaceChildren(picture);
}

/* Where the slider stands, on the plot. */
function cursor() {
  const shownCurves = curves();
  const line = document.getElementById("cursor");
  if (!line) return;
  line.setAttribute("transform", `translate(${area.left + (area.right - area.left) * moment / scene.frames},0)`);
  for (const text of document.querySelectorAll("#plot .now")) {
    text.textContent = written(valueAt(shownCurves[text.dataset.curve][1], moment));
  }
}

/* The plot in words. */
function summary(chosen) {
  const ends = chosen.map(([name, curve]) => {
    const all = typeof curve === "number" ? [curve] : curve;
    return `${name} from ${bare(all[0])} to ${bare(all.at(-1))}, lowest ${bare(Math.min(...all))}, highest ${bare(Math.max(...all))} ${unit}`;
  });
  return `Pressures over ${scene.end.toFixed(1)} s: ${ends.join("; ")}`;
}
