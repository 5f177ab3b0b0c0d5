/* What is done on the board, what happens on it by itself, and both written down: as events, and as rows of a trial. */

/* Done by hand, foot or accident from now on. moves: [input, value, s]; trial: rows of a trial; says: in words. */
async function act({ moves = [], condition = null, trial = [], says = "" }) {
  await fromHere();
  if (condition) board.condition = condition;
  const told = await ask("move", { moves, condition });
  board.deeds.push({ at: told.shown[0], trial: [trial].flat(), says, own: true });
  if (past.length && timeAt(past.length - 1) === told.shown[0]) past.pop();
  keep(told);
  show(past.length - 1);
}

/* What valves and knobs have done by themselves. */
function happened(turned) {
  for (const [time, number, value] of turned) {
    const [device, ...variable] = board.latch[number].split(" ");
    const name = variable.join(" ");
    if (name.startsWith("switch")) continue;
    board.deeds.push({ at: time, says: `${device} ${byItself(name, value)}`, own: false, trial: [] });
  }
}

function byItself(name, value) {
  if (name.endsWith("pushed")) return value ? "is pushed in" : "pops out";
  if (name === "unloading") return value ? "cuts out" : "cuts in";
  return value ? `turns: ${name}` : `turns back: no longer ${name}`;
}

/* --- failures, leaks, screws --------------------------------------------------------------------------------------- */

const failureOf = (part, name) => board.given.failures.findIndex(([of, called]) => of === part && called === name);
const sizeOf = (number) => board.condition.failures.find(([each]) => each === number)?.[1] ?? 0;
const shareWords = (size) => `${Math.round(size * 100)} %`;

/* A failure put in, changed in size, or mended with size 0. */
function fail(number, size) {
  const [part, name] = board.given.failures[number];
  const rest = board.condition.failures.filter(([each]) => each !== number);
  const condition = { ...board.condition, failures: size ? [...rest, [number, size]] : rest };
  const stands = sizeOf(number) > 0;
  if (size && board.given.failures[number][2].drifts.length && board.condition.turned.some(([each]) => board.given.turns[each][0] === part)) {
    story.textContent = `${part}: a screw of it was turned, and what drifts with it then is not known here. Begin again to see it drift.`;
    return readPart();
  }
  const rows = [...(stands ? [`mend ${part}: how ${name}`] : []), ...(size ? [`fail ${part}: how ${name}, size ${shareWords(size)}`] : [])];
  const says = size ? `${part} fails: ${name.replaceAll("-", " ")}${size < 1 ? `, ${shareWords(size)}` : ""}` : `${part} mended: ${name.replaceAll("-", " ")}`;
  return act({ condition, trial: rows, says });
}

/* A round sharp hole in a place. The bore's area counts by 0.62, as the engine has it. hole: mm; 0 stops it. */
function bore(place, hole) {
  const node = board.given.places[place];
  const area = board.given.sharp * Math.PI / 4 * (hole / 1e3) ** 2;
  const rest = board.condition.leaks.filter(([, , where]) => where !== place);
  const condition = { ...board.condition, leaks: hole ? [...rest, [node, area, place]] : rest };
  return act({ condition, trial: [hole ? `leak ${place}: hole ${hole} mm` : `stop ${place}`],
    says: hole ? `a hole of ${hole} mm in ${place}` : `the hole in ${place} is stopped` });
}

/* What a screw would be turned past, or nothing. */
function passed(number, value) {
  const [part, setting] = board.given.turns[number];
  const now = (name, stood) => {
    if (name === setting) return value;
    const other = board.given.turns.findIndex(([of, called]) => of === part && called === name);
    return board.condition.turned.find(([each]) => each === other)?.[1] ?? stood;
  };
  const broken = board.given.orders[part].find(([low, least, high, most, equal]) => {
    const [one, another] = [now(low, least), now(high, most)];
    return equal ? one > another : one >= another;
  });
  return broken ? `${part}: ${broken[0]} would not stay below ${broken[2]}` : "";
}

/* A screw turned. value: absolute Pa. */
function turn(number, value) {
  const [part, setting] = board.given.turns[number];
  const drifted = board.condition.failures.some(([each]) => board.given.failures[each][0] === part && board.given.failures[each][2].drifts.length);
  const past = drifted ? `${part} has drifted` : passed(number, value);
  if (past) {
    story.textContent = `${past}: the screw does not go so far.`;
    return readPart();
  }
  const rest = board.condition.turned.filter(([each]) => each !== number);
  return act({ condition: { ...board.condition, turned: [...rest, [number, value]] },
    trial: [`turn ${part}: setting ${setting}, to ${inBar(value - STANDARD)}`], says: `${part}: ${setting} turned to ${written((value - STANDARD) / 1e3)}` });
}

const STANDARD = 101325;  // Pa, what a gauge calls nothing
const inBar = (pascals) => `${(pascals / 1e5).toFixed(5)} bar`;

/* --- as a trial ----------------------------------------------------------------------------------------------------- */

/* What was done up to the moment that is shown, and what the reservoirs then read, as a trial. */
function asTrial() {
  const end = timeAt(at), rows = startRows();
  const done = board.deeds.filter((deed) => deed.own && deed.at <= end);
  for (const deed of done) for (const row of deed.trial) rows.push(`${row}${row.includes(":") ? "," : ":"} at ${deed.at.toFixed(3)} s`);
  const running = inputNow(board.given.inputs[board.given.hands.find((hand) => hand.sort === "engine")?.slot]);
  rows.push(`set engine: state ${running ? shareWords(running) : "off"}, at ${end.toFixed(3)} s`);
  for (const dial of data.dials) {
    const reads = liveAt(dial.at);
    for (const [word, by] of [["at least", -0.1], ["at most", 0.1]]) {
      rows.push(`expect ${dial.name}: pressure ${word} ${inBar(Math.max(0, reads + by) * 1e3)}, until ${end.toFixed(3)} s`);
    }
  }
  return `trial played-on-the-board {\n${rows.map((row) => `    ${row}`).join("\n")}\n}\n`;
}

function startRows() {
  const { level, situation, rows } = board.began;
  const start = rows ? [...rows] : [];
  if (!rows && board.given.levels[level] !== null) start.push(`start reservoirs: pressure ${inBar(board.given.levels[level])}`);
  if (!rows && situation === "parked") start.push("start springs: state applied");
  return [...start, "start heat: state passes"];
}
