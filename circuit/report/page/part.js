/* A part that is chosen: its hands, its live state, what can fail in it, holes, screws. */
const beside = document.getElementById("beside");
const workedRoom = document.getElementById("worked");
let chosenPart = "";
let readings = [];   // functions that write what is read of the part now

function choosePart(name) {
  if (!data.parts[name]) return;
  const fresh = chosenPart !== name;
  chosenPart = name;
  beside.hidden = false;
  document.getElementById("stage").classList.add("told");
  if (fresh) {
    tell(name);
    setWorked(name);
    for (const told of board.chosen) told(name);
  }
  light([]);
}

function letPartGo() {
  chosenPart = "";
  beside.hidden = true;
  document.getElementById("stage").classList.remove("told");
  readings = [];
  light([]);
}

document.getElementById("away").addEventListener("click", () => { letPartGo(); view.focus({ preventScroll: true }); });

function setWorked(name) {
  readings = [];
  if (!board.given) return workedRoom.replaceChildren();
  const before = worked.length;
  const rows = handsOn(name).map(handOf);
  readings.push(...worked.splice(before));
  const screws = board.given.turns.map((each, number) => [each, number]).filter(([[part]]) => part === name).map(([each, number]) => screw(each, number));
  const failures = data.parts[name].failures.map(([failure, says]) => failureRow(name, failure, says));
  const holes = Object.keys(board.given.places).filter((place) => place.startsWith(`${name}.`));
  const fold = (title, inside, open) => {
    if (!inside.length) return [];
    const made = element("details");
    made.open = open;
    made.append(element("summary", title), ...inside);
    return [made];
  };
  workedRoom.replaceChildren(...rows, ...fold("Screws", screws, true), ...fold("What fails in it", failures, true),
    ...fold("Bore a hole", holes.map(holeRow), false));
  readPart();
}

function readPart() {
  for (const each of readings) each();
}

/* A setting that a hand turns, in the unit of the page. */
function screw([part, setting, stood], number) {
  const box = element("label", undefined, "hand");
  const field = element("input");
  const size = () => units[unit][0] * 1e3;
  Object.assign(field, { type: "number", min: 0, max: unit === "psi" ? 250 : 17, step: unit === "psi" ? 1 : 0.1 });
  box.append(element("span", setting.replaceAll("-", " ")), field, element("span", unit));
  field.addEventListener("change", () => {
    const value = Number(field.value);
    if (Number.isFinite(value) && field.value !== "") turn(number, STANDARD + value * size());
  });
  readings.push(() => {
    const value = board.condition.turned.find(([each]) => each === number)?.[1] ?? stood;
    if (document.activeElement !== field) field.value = bare((value - STANDARD) / 1e3);
  });
  return box;
}

/* A failure: put in, by how much, mended. */
function failureRow(part, failure, says) {
  const number = failureOf(part, failure);
  const box = element("div", undefined, "failure");
  if (number < 0) {
    box.append(element("span", failure.replaceAll("-", " ")), element("span"), element("span", `${says}; it changes no pressure of this board`, "note"));
    return box;
  }
  const button = element("button");
  button.type = "button";
  const size = element("input");
  Object.assign(size, { type: "range", min: 1, max: 100, value: 100 });
  size.setAttribute("aria-label", `how much: ${part} ${failure.replaceAll("-", " ")}`);
  box.append(button, size, element("span", says, "note"));
  button.addEventListener("click", () => fail(number, sizeOf(number) ? 0 : Number(size.value) / 100));
  size.addEventListener("change", () => { if (sizeOf(number)) fail(number, Number(size.value) / 100); });
  readings.push(() => {
    const stands = sizeOf(number);
    const words = `${stands ? "Mend" : "Fail"}: ${failure.replaceAll("-", " ")}${stands ? `, ${shareWords(stands)}` : ""}`;
    if (button.textContent !== words) button.textContent = words;
    box.classList.toggle("stands", stands > 0);
  });
  return box;
}

function holeRow(place) {
  const box = element("label", undefined, "hand");
  const field = element("input");
  Object.assign(field, { type: "number", min: 0, max: 20, step: 0.5, value: 0 });
  box.append(element("span", `hole at ${place}`), field, element("span", "mm"));
  field.addEventListener("change", () => bore(place, Math.max(0, Math.min(20, Number(field.value) || 0))));
  return box;
}
