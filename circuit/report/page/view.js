"use strict";
/* Panning and zooming: the sheet's viewBox is moved; sizes are in the sheet's px. */
const data = JSON.parse(document.getElementById("data").textContent);
for (const part of Object.values(data.parts)) Object.assign(part, data.kinds[part.kind]);
const view = document.getElementById("view");
const sheet = document.getElementById("sheet");

/* What is to be seen at most: without the title, which the page has, and without the legend where lines show pressure. */
const bounds = (() => {
  const { width, height } = sheet.viewBox.baseVal;
  const legend = sheet.querySelector(":scope > .legend").transform.baseVal.consolidate().matrix.f;
  const box = (low) => ({ x: 14, y: 40, width: width - 28, height: Math.max(80, low - 40) });
  return { circuits: box(height - 24), pressure: box(legend + 4) };
})();
const LETTER = 11;   // px of the sheet's letters
const LEAST = 9;     // px of the screen that a letter has at least, and a name
const NAME = 12;
const NAMED = 0.42;  // px of the screen for each of the sheet below which names would not find room
sheet.setAttribute("preserveAspectRatio", "xMinYMin meet");
let whole = bounds.circuits;
let frame = { ...whole };
let fitted = true;

function reframe() {
  view.classList.toggle("fitted", fitted);
  sheet.setAttribute("viewBox", `${frame.x} ${frame.y} ${frame.width} ${frame.height}`);
  const each = 1 / scale();
  sheet.style.setProperty("--name", `${Math.max(LETTER, NAME / each).toFixed(2)}px`);
  sheet.dataset.detail = each * LETTER >= LEAST - 0.01 ? "part" : each >= NAMED ? "overview" : "far";
}

/* The whole of it where its letters can then be read; else as much of its left as can be, and the rest is dragged into sight. */
function fit() {
  frame = { ...whole };
  fitted = true;
  const most = view.clientWidth * LETTER / LEAST;
  if (matchMedia("screen").matches && frame.width > most) {
    frame.width = most;
    frame.height = Math.min(frame.height, most * view.clientHeight / view.clientWidth);
  }
  reframe();
}

/* Everything at once, however small: names while they find room, then none. */
function survey() {
  frame = { ...whole };
  fitted = false;
  reframe();
}

/* Show the sheet with or without its legend. */
function bound(name) {
  whole = bounds[name];
  settle();
  if (fitted) fit();
}

/* As high as what is shown wants at this width. */
function settle() {
  const each = Math.max(view.clientWidth / whole.width, LEAST / LETTER);
  view.style.height = `${whole.height * each}px`;
}

/* How many sheet px one px of the screen is. */
function scale() {
  return Math.max(frame.width / view.clientWidth, frame.height / view.clientHeight);
}

/* A place on the screen as a place on the sheet. */
function place(x, y) {
  const matrix = sheet.getScreenCTM();
  return new DOMPoint(x, y).matrixTransform(matrix.inverse());
}

function zoom(factor, x, y) {
  fitted = false;
  const room = view.getBoundingClientRect();
  const at = place(x ?? room.left + room.width / 2, y ?? room.top + room.height / 2);
  const width = Math.min(whole.width * 1.6, Math.max(160, frame.width * factor));
  factor = width / frame.width;
  frame.x = at.x - (at.x - frame.x) * factor;
  frame.y = at.y - (at.y - frame.y) * factor;
  frame.width *= factor;
  frame.height *= factor;
  reframe();
}

function pan(dx, dy) {
  fitted = false;
  const step = scale();
  frame.x = Math.min(whole.x + whole.width, Math.max(whole.x - frame.width, frame.x + dx * step));
  frame.y = Math.min(whole.y + whole.height, Math.max(whole.y - frame.height, frame.y + dy * step));
  reframe();
}

/* Bring a box of the sheet into sight without changing the zoom more than needed. */
function bringIntoSight(box) {
  const inside = box.x >= frame.x && box.y >= frame.y && box.x + box.width <= frame.x + frame.width
    && box.y + box.height <= frame.y + frame.height;
  if (inside) return;
  fitted = false;
  if (box.width > frame.width * 0.9 || box.height > frame.height * 0.9) return fit();
  frame.x = box.x + box.width / 2 - frame.width / 2;
  frame.y = box.y + box.height / 2 - frame.height / 2;
  reframe();
}

/* The wheel scrolls the page until the schematic has the focus. */
view.addEventListener("wheel", (event) => {
  if (!event.ctrlKey && !view.contains(document.activeElement)) return;
  event.preventDefault();
  zoom(Math.exp(Math.sign(event.deltaY) * 0.18), event.clientX, event.clientY);
}, { passive: false });

const fingers = new Map();
let moved = 0;
view.addEventListener("pointerdown", (event) => {
  if (event.button > 0) return;
  fingers.set(event.pointerId, event);
  moved = 0;
});
view.addEventListener("pointermove", (event) => {
  const before = fingers.get(event.pointerId);
  if (!before) return;
  if (fingers.size === 2) {
    const [other] = [...fingers.values()].filter((finger) => finger.pointerId !== event.pointerId);
    const apart = (a, b) => Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY) || 1;
    zoom(apart(before, other) / apart(event, other), (event.clientX + other.clientX) / 2, (event.clientY + other.clientY) / 2);
  } else {
    moved += Math.hypot(event.clientX - before.clientX, event.clientY - before.clientY);
    if (moved > 4) {
      view.classList.add("dragging");
      if (!view.hasPointerCapture(event.pointerId)) view.setPointerCapture(event.pointerId);
      pan(before.clientX - event.clientX, before.clientY - event.clientY);
    }
  }
  fingers.set(event.pointerId, event);
});
for (const name of ["pointerup", "pointercancel"]) {
  view.addEventListener(name, (event) => {
    fingers.delete(event.pointerId);
    view.classList.remove("dragging");
  });
}

/* By the keys it is zoomed about the part that has the focus, if one has. */
function zoomByKey(factor) {
  const part = document.activeElement.closest?.("#sheet [data-name]");
  if (!part) return zoom(factor);
  const box = part.getBoundingClientRect();
  zoom(factor, box.left + box.width / 2, box.top + box.height / 2);
  const own = onSheet(part);
  if (own.width < 0.9 * frame.width && own.height < 0.9 * frame.height) bringIntoSight(own);
}

const wishes = {
  "+": () => zoomByKey(0.8), "=": () => zoomByKey(0.8), "-": () => zoomByKey(1.25), "_": () => zoomByKey(1.25), f: fit,
  ArrowLeft: () => pan(-60, 0), ArrowRight: () => pan(60, 0), ArrowUp: () => pan(0, -60), ArrowDown: () => pan(0, 60),
};
view.addEventListener("keydown", (event) => {
  const onPart = event.target !== view;
  if (event.ctrlKey || event.metaKey || event.altKey || (onPart && event.key.startsWith("Arrow"))) return;
  if (wishes[event.key]) {
    event.preventDefault();
    wishes[event.key]();
  }
});
document.getElementById("zoom-in").addEventListener("click", () => zoom(0.7));
document.getElementById("zoom-out").addEventListener("click", () => zoom(1 / 0.7));
document.getElementById("zoom-fit").addEventListener("click", () => (fitted && frame.width < whole.width - 1 ? survey() : fit()));
/* A printed sheet shows the whole schematic and everything that is folded away. */
let unfolded = [];
addEventListener("beforeprint", () => {
  fit();
  unfolded = [...document.querySelectorAll(".block details:not([open])")];
  for (const each of unfolded) each.open = true;
});
addEventListener("afterprint", () => {
  for (const each of unfolded) each.open = false;
  fit();
});
let wide = 0;
new ResizeObserver(() => {
  if (view.clientWidth === wide) return;
  wide = view.clientWidth;
  settle();
  if (fitted) fit();
  else reframe();
}).observe(view);
settle();
fit();
