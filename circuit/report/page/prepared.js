/* What is prepared: starts, scenes, trials, failures. Each moves the hands that a person moves. */
let script = null;   // deeds that are still to come, and when the last one was done

function dropPrepared() {
  script = null;
}

/* Does what has come due at the moment that is reached. */
async function playPrepared() {
  while (script && script.deeds.length) {
    const now = timeAt(past.length - 1);
    const [after, says, moves, rows, when, unless] = script.deeds[0];
    const holds = (asked) => asked && Math.abs(past.at(-1).row[shelf.input + asked[0]] - asked[1]) < 0.5;
    if (unless && holds(unless)) { script.deeds.shift(); continue; }
    if (now < script.since + after - 1e-6 || when && !holds(when)) return;
    script.deeds.shift();
    script.since = when ? now : script.since + after;
    if (moves.length) await actPrepared(moves, rows, says);
    if (script && !script.deeds.length) script.ends = now + script.lasts;
  }
  if (script && timeAt(past.length - 1) >= script.ends) {
    script = null;
    halt();
  }
}

async function actPrepared(moves, rows, says) {
  const kept = script;
  const told = await ask("move", { moves, condition: null });
  board.deeds.push({ at: told.shown[0], trial: rows, says, own: true });
  past.pop();
  keep(told);
  script = kept;
}

/* How long until the next deed is due, so that it is done in its time. */
function untilDue(seconds) {
  if (!script?.deeds.length) return seconds;
  const due = script.since + script.deeds[0][0] - timeAt(past.length - 1);
  return due > 1e-6 ? Math.min(seconds, due) : seconds;
}

async function playScene(scene) {
  halt();
  const rows = scene.starts.length ? scene.starts : null;
  await begin(scene.level, scene.starts.length || board.given.starts.some((each) => each.situation === scene.key) ? scene.key : scene.situation, rows);
  script = { deeds: [...scene.deeds], since: 0, lasts: scene.lasts, ends: Infinity };
  if (!script.deeds.length) script.ends = scene.lasts;
  setPace(scene.pace);
  story.textContent = `${scene.title}: ${scene.says}. Predicted.`;
  run();
}

/* A failure by itself, from driving; with the engine on where it is of what makes the air. */
async function playFailure(number) {
  halt();
  const [part, name] = board.given.failures[number];
  await begin(board.given.levels.length - 1, "driving");
  const engine = board.given.hands.find((hand) => hand.sort === "engine");
  const makes = engine && data.makes.includes(part);
  if (makes) await put(engine, 1);
  await fail(number, 1);
  setPace(makes ? 20 : 1);
  choosePart(part);
  story.textContent = `${part}: ${name.replaceAll("-", " ")}. ${data.parts[part].failures.find(([each]) => each === name)[1]}. Predicted.`;
  run();
}

/* --- to be chosen --------------------------------------------------------------------------------------------------- */

const ready = document.getElementById("ready");
const anew = document.getElementById("anew");

function option(value, title) {
  const made = element("option", title);
  made.value = value;
  return made;
}

function setPrepared() {
  const group = (title, entries) => {
    if (!entries.length) return [];
    const made = element("optgroup");
    made.label = title;
    made.append(...entries);
    return [made];
  };
  const scenes = (of) => board.given.prepared.map((each, number) => [each, number]).filter(([each]) => each.group === of)
    .map(([each, number]) => option(`scene ${number}`, each.title));
  const faults = board.given.failures.map(([part, name], number) => option(`failure ${number}`, `${part}: ${name.replaceAll("-", " ")}`));
  ready.replaceChildren(...group("Played", scenes("play")), ...group("Trials of the design", scenes("trial")), ...group("Failures", faults));
  nameStarts();
}

function nameStarts() {
  const chosen = anew.value;
  const levels = board.given.levels.map((level, number) => [level === null ? "as charged" : written(level / 1e3), number]).reverse();
  anew.replaceChildren(...["driving", "parked"].flatMap((situation) => levels.map(([words, number]) => option(`${number} ${situation}`, `${situation}, ${words}`))));
  if (chosen) anew.value = chosen;
}

document.getElementById("ready-go").addEventListener("click", () => {
  const [what, number] = ready.value.split(" ");
  if (what === "scene") playScene(board.given.prepared[Number(number)]);
  else playFailure(Number(number));
});
document.getElementById("anew-go").addEventListener("click", async () => {
  halt();
  const [level, situation] = anew.value.split(" ");
  await begin(Number(level), situation);
  story.textContent = "";
});
