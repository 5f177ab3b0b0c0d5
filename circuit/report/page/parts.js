/* Parts and findings: what is pointed at is told beside the schematic; a finding lights up its parts and the reverse. */
const SVG = "http://www.w3.org/2000/svg";
const ground = sheet.querySelector(":scope > .circuit");
const about = document.getElementById("about");
const shapes = new Map();
const pieces = new Map();  // a line that is cut has two
const findingsOf = new Map();
const partsOf = new Map(data.findings);
let shown = "";
let chosen = "";

for (const [label, names] of data.findings) {
  for (const name of names) findingsOf.set(name, [...(findingsOf.get(name) || []), label]);
}
for (const shape of sheet.querySelectorAll("[data-name]")) {
  const name = shape.dataset.name;
  const part = data.parts[name];
  if (!shapes.has(name)) shapes.set(name, shape);
  pieces.set(name, [...(pieces.get(name) || []), shape]);
  shape.querySelector("title")?.remove();
  if (shape.classList.contains("device")) {
    const { x, y, width, height } = shape.getBBox();
    const hit = document.createElementNS(SVG, "rect");
    for (const [key, value] of Object.entries({ x, y, width, height, class: "hit" })) hit.setAttribute(key, value);
    shape.prepend(hit);
  }
  shape.setAttribute("role", "button");
  shape.setAttribute("tabindex", "-1");
  const flags = findingsOf.get(name);
  shape.setAttribute("aria-label", `${name}, ${part.kind}` + (part.from ? `, from ${part.from} to ${part.to}` : "")
    + (flags ? `, finding ${flags.join(", ")}` : ""));
}
for (const title of sheet.querySelectorAll(".net > title, .finding > title")) title.remove();

/* Where a line is cut, a click goes to its other part. */
for (const link of sheet.querySelectorAll("a.goes-on")) {
  link.setAttribute("tabindex", "-1");
  link.querySelector("title")?.remove();
  link.addEventListener("click", (event) => {
    event.preventDefault();
    const there = sheet.getElementById(link.getAttribute("href").slice(1));
    if (there) bringIntoSight(onSheet(there));
  });
}

const rings = document.createElementNS(SVG, "g");
ground.append(rings);

/* The box of a shape, in the sheet's px. */
function boxOf(shape) {
  const box = shape.getBBox();
  const own = ground.getCTM().inverse().multiply(shape.getCTM());
  const corner = new DOMPoint(box.x, box.y).matrixTransform(own);
  return { x: corner.x, y: corner.y, width: box.width, height: box.height };
}

/* The same in the px of the view's frame. */
function onSheet(shape) {
  const box = boxOf(shape);
  const matrix = ground.transform.baseVal.consolidate().matrix;
  return { ...box, x: box.x + matrix.e, y: box.y + matrix.f };
}

/* Show one vehicle of a combination as large as it goes. */
for (const button of document.querySelectorAll("button[data-vehicle]")) {
  button.addEventListener("click", () => {
    const own = [...shapes].filter(([name, shape]) => name.startsWith(`${button.dataset.vehicle}.`) && !shape.classList.contains("line"));
    const boxes = own.map(([, shape]) => onSheet(shape));
    if (!boxes.length) return;
    const [left, top] = [Math.min(...boxes.map((box) => box.x)), Math.min(...boxes.map((box) => box.y))];
    const right = Math.max(...boxes.map((box) => box.x + box.width)), low = Math.max(...boxes.map((box) => box.y + box.height));
    frame = { x: left - 20, y: top - 20, width: right - left + 40, height: low - top + 40 };
    fitted = false;
    reframe();
  });
}

function ring(shape, kind) {
  const box = boxOf(shape);
  const rect = document.createElementNS(SVG, "rect");
  const wide = kind === "faulty" ? 9 : 5;
  const values = { x: box.x - wide, y: box.y - wide, width: box.width + 2 * wide, height: box.height + 2 * wide, rx: wide, class: `ring ${kind}` };
  for (const [key, value] of Object.entries(values)) rect.setAttribute(key, value);
  rings.append(rect);
}

/* Light up some parts; those of the chosen finding stay lit. */
function light(names) {
  rings.replaceChildren();
  for (const shape of sheet.querySelectorAll(".lit")) shape.classList.remove("lit");
  for (const shape of sheet.querySelectorAll(".faulty")) shape.classList.remove("faulty");
  const all = new Map((partsOf.get(chosen) || []).map((name) => [name, "chosen"]));
  for (const name of names) all.set(name, "");
  if (chosenPart) all.set(chosenPart, "chosen");
  const faulty = (board.condition.failures || []).map(([number]) => [board.given.failures[number][0], "faulty"]);
  for (const [name, kind] of [...all, ...faulty]) {
    const shape = shapes.get(name);
    if (!shape) continue;
    if (shape.classList.contains("line")) {
      for (const piece of pieces.get(name)) piece.classList.add(kind === "faulty" ? "faulty" : "lit");
    }
    else ring(shape, kind);
  }
  for (const row of document.querySelectorAll("tr[data-parts]")) {
    row.classList.toggle("lit", names.length > 0 && row.dataset.parts.split("\n").some((name) => names.includes(name)));
  }
}

function element(tag, words, kind) {
  const made = document.createElement(tag);
  if (words !== undefined) made.textContent = words;
  if (kind) made.className = kind;
  return made;
}

function row(table, ...cells) {
  const made = table.insertRow();
  for (const cell of cells) made.append(typeof cell === "string" ? element("td", cell) : cell);
}

/* Tell of a part beside the schematic. */
function tell(name) {
  const part = data.parts[name];
  if (!part) return;
  shown = name;
  const head = element("div");
  head.append(element("h3", name), element("p", part.kind));
  if (part.from) head.append(element("p", `from ${part.from} to ${part.to}` + (part.label ? `, ${part.label}` : "")));
  for (const label of findingsOf.get(name) || []) head.append(linkTo(label));
  document.getElementById("about-head").replaceChildren(head);
  about.replaceChildren(element("p", part.does, "does"));
  if (part.ports.length) {
    const table = element("table");
    table.createCaption().textContent = plays() ? "Pressure now, predicted" : "Ports";
    reads = [];
    for (const [number, word, space] of part.ports) {
      const cell = element("td", "", "number");
      if (space >= 0) reads.push([cell, space]);
      row(table, number, word, cell);
    }
    tellPressures();
    about.append(box(table));
  }
  if (part.settings.length) {
    const table = element("table");
    table.createCaption().textContent = "Settings";
    for (const [setting, value, source] of part.settings) {
      const cell = element("td", value);
      if (source) cell.append(" ", element("span", "assumed", "assumed-word"), ` (${source})`);
      row(table, setting, cell);
    }
    about.append(box(table));
  }
}

let reads = [];
/* The pressures of the part that is told of, as they are now. */
function tellPressures() {
  for (const [cell, space] of reads) {
    const value = written(pressureIn(space)) ?? "";
    if (cell.textContent !== value) cell.textContent = value;
  }
}

function box(inside) {
  const made = element("div");
  made.append(inside);
  return made;
}

/* The entry of a finding in the list. */
const entryOf = (label) => document.querySelector(`li.finding[data-finding="${CSS.escape(label)}"]`);

/* A button that goes to a finding. */
function linkTo(label) {
  const entry = entryOf(label);
  const button = element("button", `Finding ${label}: ${entry.querySelector(".says").textContent}`, "part");
  button.type = "button";
  button.addEventListener("click", () => {
    if (chosen !== label) choose(label);
    entry.scrollIntoView({ block: "center" });
    entry.querySelector(".pick").focus();
  });
  return button;
}

/* Choose a finding, or let it go when it is chosen already. Its parts stay lit. */
function choose(label) {
  chosen = chosen === label ? "" : label;
  for (const entry of document.querySelectorAll("li.finding, .chip")) {
    const own = entry.dataset.finding === chosen;
    entry.classList.toggle("chosen", own);
    (entry.querySelector(".pick") || entry).setAttribute("aria-pressed", String(own));
  }
  light([]);
  const first = (partsOf.get(chosen) || []).map((name) => shapes.get(name)).find(Boolean);
  if (first) {
    choosePart(first.dataset.name);
    bringIntoSight(onSheet(first));
  }
}

const named = (event) => event.target.closest?.("[data-name]")?.dataset.name;
sheet.addEventListener("pointerover", (event) => {
  const name = named(event);
  if (name && !fingers.size) light([name]);
});
sheet.addEventListener("pointerleave", () => light([]));
sheet.addEventListener("click", (event) => {
  if (moved > 4) return;
  const flag = event.target.closest?.("[data-finding]");
  if (flag) {
    return choose(flag.dataset.finding);
  }
  const name = named(event);
  if (!name) return;
  if (plays()) workPart(name);
  choosePart(name);
  step(name);
});
sheet.addEventListener("focusin", (event) => {
  const name = named(event);
  if (name) light([name]);
});

/* One part of the schematic is in the order of tabs; the arrow keys go on to the nearest in a direction. */
let current = "";
function step(name) {
  if (current) shapes.get(current).setAttribute("tabindex", "-1");
  current = name;
  shapes.get(name).setAttribute("tabindex", "0");
  shapes.get(name).focus({ preventScroll: true });
  bringIntoSight(onSheet(shapes.get(name)));
}
const directions = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
function nearest(from, [dx, dy]) {
  const middle = (shape) => { const box = boxOf(shape); return [box.x + box.width / 2, box.y + box.height / 2]; };
  const [x, y] = middle(shapes.get(from));
  let best = "", least = Infinity;
  for (const [name, shape] of shapes) {
    const [otherX, otherY] = middle(shape);
    const along = (otherX - x) * dx + (otherY - y) * dy;
    const aside = Math.abs((otherX - x) * dy) + Math.abs((otherY - y) * dx);
    if (name === from || along < 2) continue;
    const far = along + 2.5 * aside;
    if (far < least) { least = far; best = name; }
  }
  return best;
}
view.addEventListener("keydown", (event) => {
  if (event.target === view && event.key === "Enter") {
    event.preventDefault();
    return step(current || shapes.keys().next().value);
  }
  const name = named(event);
  if (!name || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key === "Escape") return view.focus();
  if (event.key === "Enter" || event.key === " ") {
    event.preventDefault();
    event.stopPropagation();
    if (chosenPart === name && plays()) workPart(name);
    choosePart(name);
  }
  if (directions[event.key]) {
    event.preventDefault();
    const next = nearest(name, directions[event.key]);
    if (next) step(next);
  }
});

for (const entry of document.querySelectorAll("li.finding")) {
  entry.querySelector(".pick").addEventListener("click", () => {
    choose(entry.dataset.finding);
    if (chosen) document.getElementById("schematic").scrollIntoView();
  });
  entry.addEventListener("pointerenter", () => light(partsOf.get(entry.dataset.finding) || []));
  entry.addEventListener("pointerleave", () => light([]));
}
for (const chip of document.querySelectorAll(".chip")) {
  chip.addEventListener("click", () => choose(chip.dataset.finding));
  chip.addEventListener("pointerenter", () => light(partsOf.get(chip.dataset.finding) || []));
  chip.addEventListener("pointerleave", () => light([]));
}
for (const line of document.querySelectorAll("tr[data-parts]")) {
  const names = line.dataset.parts.split("\n");
  line.addEventListener("pointerenter", () => light(names));
  line.addEventListener("pointerleave", () => light([]));
}
for (const button of document.querySelectorAll("button.part[data-part]")) {
  button.addEventListener("focus", () => light([button.dataset.part]));
  button.addEventListener("click", () => {
    document.getElementById("schematic").scrollIntoView();
    choosePart(button.dataset.part);
    if (shapes.has(button.dataset.part)) step(button.dataset.part);
  });
}

/* The clause table shows what has the outcome chosen and all the words asked for. */
const asked = document.getElementById("clause-filter");
function sift() {
  const outcome = document.querySelector("input[name=outcome]:checked").value;
  const words = asked.value.toLowerCase().split(/\s+/).filter(Boolean);
  const lines = [...document.querySelectorAll("#table-clauses tbody tr")];
  for (const line of lines) {
    const says = line.textContent.toLowerCase();
    line.hidden = Boolean(outcome) && !line.classList.contains(outcome) || !words.every((word) => says.includes(word));
  }
  const left = lines.filter((line) => !line.hidden).length;
  document.getElementById("clause-count").textContent = left < lines.length ? `${left} of ${lines.length} shown` : "";
}
for (const outcome of document.querySelectorAll("input[name=outcome]")) outcome.addEventListener("change", sift);
asked.addEventListener("input", sift);
