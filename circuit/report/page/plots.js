/* Pressures over time of a few spaces. Curves differ in dash and weight and are named beside, not told by colour alone. */
const looks = [
  ["#1b2a6b", ""], ["#a0410d", "9 4"], ["#0a5561", "3 3"], ["#7d2a68", "12 3 2 3"], ["#4f565e", "6 2 2 2 2 2"],
  ["#1d5e33", "16 4"], ["#a80f28", "2 5"], ["#5a4a00", "8 3 2 3 2 3"],
];
const area = { left: 40, top: 20, right: 0, low: 0, width: 0, height: 0 };
let drawn = [];

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
  for (const { name, at } of data.plotted) {
    const curve = scene.courses[at];
    const key = curve.join();
    if (found.has(key)) found.get(key)[0].push(name);
    else found.set(key, [[name], curve]);
  }
  return [...found.values()];
}

const across = (frame) => area.left + (area.right - area.left) * frame / (scene.times.length - 1);

/* Frames that are named under the axis: ends of the parts, and round times inside where there is room. */
function ticks() {
  const ends = [0];
  for (const [, frames] of scene.parts) ends.push(ends.at(-1) + frames);
  const found = new Map(ends.map((frame) => [frame, scene.times[frame]]));
  for (let part = 1; part < ends.length; part++) {
    const [from, to] = [ends[part - 1], ends[part]];
    const room = across(to) - across(from);
    const step = stride(scene.times[to] - scene.times[from], Math.max(1, room / 62));
    for (let at = Math.ceil(scene.times[from] / step + 1e-6) * step; at < scene.times[to] - step * 0.6; at += step) {
      const share = (at - scene.times[from]) / (scene.times[to] - scene.times[from]);
      if (share * room > 40 && (1 - share) * room > 40) found.set(from + share * (to - from), at);
    }
  }
  return [...found].sort((a, b) => a[0] - b[0]);
}

function plot() {
  const room = document.getElementById("plot");
  if (!scene || scene.words) return room.replaceChildren();
  const [size] = units[unit];
  drawn = curves();
  area.width = Math.max(280, room.clientWidth || 600);
  area.height = 236;
  area.right = area.width - 12;
  area.low = area.height - 26;
  const most = Math.max(size * 10, ...drawn.map(([, curve]) => Math.max(...curve))) / size;
  const step = stride(most, 5), top = Math.ceil(most / step - 1e-9) * step;
  const y = (pressure) => area.low - (area.low - area.top) * pressure / size / top;
  const picture = mark("svg", { viewBox: `0 0 ${area.width} ${area.height}`, role: "img", "aria-label": summary(drawn) });
  let from = 0;
  scene.parts.forEach(([, frames], number) => {
    if (number % 2) picture.append(mark("rect", { x: across(from), y: area.top, width: across(from + frames) - across(from), height: area.low - area.top, fill: "#eef1f3" }));
    from += frames;
  });
  for (let value = 0; value <= top + 1e-9; value += step) {
    const at = y(value * size);
    picture.append(mark("path", { d: `M${area.left} ${at}H${area.right}`, stroke: "#c4cad1", "stroke-width": value ? 0.7 : 1.4 }));
    picture.append(mark("text", { x: area.left - 6, y: at + 4, "text-anchor": "end", class: "axis" }, String(Math.round(value * 100) / 100)));
  }
  let free = -Infinity;
  for (const [frame, time] of ticks()) {
    const place = across(frame);
    picture.append(mark("path", { d: `M${place} ${area.low}v4`, stroke: "#4f565e" }));
    if (place < free || place > area.right - 16 && frame < scene.times.length - 1) continue;
    const words = String(Math.round(time * 100) / 100);
    picture.append(mark("text", { x: place, y: area.low + 17, "text-anchor": frame >= scene.times.length - 1 ? "end" : "middle", class: "axis" }, words));
    free = place + words.length * 7 + 12;
  }
  picture.append(mark("text", { x: area.left, y: 12, class: "axis" }, `${unit}, gauge, predicted; time in s`));
  for (const each of scene.happenings) {
    if (each.own) picture.append(mark("path", { d: `M${across(each.frame)} ${area.top}V${area.low}`, class: "deed" }));
  }
  drawn.forEach(([, curve], number) => {
    const [ink, dash] = looks[number % looks.length];
    let d = "";
    curve.forEach((pressure, frame) => { d += `${frame ? "L" : "M"}${across(frame).toFixed(1)} ${y(pressure).toFixed(1)}`; });
    picture.append(mark("path", { d, fill: "none", stroke: ink, "stroke-width": 1.8, "stroke-dasharray": dash || "none", "stroke-linejoin": "round" }));
  });
  picture.append(mark("path", { d: `M0 ${area.top}V${area.low}`, stroke: "#14181c", "stroke-width": 1.4, id: "cursor" }));
  const pick = (event) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(picture.getScreenCTM().inverse()).x;
    stop();
    go(Math.round((at - area.left) / (area.right - area.left) * (scene.times.length - 1)));
    say();
  };
  picture.addEventListener("pointerdown", pick);
  picture.addEventListener("pointermove", (event) => { if (event.buttons & 1) pick(event); });
  const key = element("ul", undefined, "key");
  drawn.forEach(([names], number) => {
    const [ink, dash] = looks[number % looks.length];
    const sign = mark("svg", { width: 30, height: 8, "aria-hidden": "true" });
    sign.append(mark("path", { d: "M0 4H30", stroke: ink, "stroke-width": 2.2, "stroke-dasharray": dash || "none" }));
    const entry = element("li");
    entry.append(sign, element("span", names.join(", ")), element("b", "", "now"));
    key.append(entry);
  });
  const uneven = scene.parts.length > 1 ? [element("p", "Shaded and plain stretches of the time axis run at different paces.", "note")] : [];
  room.replaceChildren(picture, key, ...uneven);
}

/* Where the slider stands, on the plot. */
function cursor() {
  const line = document.getElementById("cursor");
  if (!line) return;
  line.setAttribute("transform", `translate(${across(moment).toFixed(1)},0)`);
  document.querySelectorAll("#plot .now").forEach((text, number) => { text.textContent = written(drawn[number][1][moment]); });
}

/* The plot in words. */
function summary(chosen) {
  const ends = chosen.map(([names, all]) => `${names.join(", ")} from ${bare(all[0])} to ${bare(all.at(-1))}, lowest ${bare(Math.min(...all))}, highest ${bare(Math.max(...all))} ${unit}`);
  return `Pressures over ${clockWords(scene.times.at(-1))}: ${ends.join("; ")}`;
}
