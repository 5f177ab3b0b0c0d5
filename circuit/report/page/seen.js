/* What one sees and hears: marks that move with the air, air that leaves, rods and wheels, what the driver notices. */
const FLOWS = 2e-5;    // kg/s from which air is seen to flow
const BLOWS = 1e-4;    // kg/s from which it is heard to leave
const LEAST_AHEAD = 3; // kPa behind what blows
const still = matchMedia("(prefers-reduced-motion: reduce)");
let flowing = [];
let blowing = [];
let rods = [];
let buzzer = null;

function setSeen() {
  const lines = Object.entries(board.given.ways).filter(([name]) => data.parts[name]?.from);
  flowing = lines.flatMap(([name, [elements]]) => (pieces.get(name) || []).map((piece) => {
    const trail = mark("path", { d: piece.getAttribute("d"), class: "trail" });
    piece.after(trail);
    return { trail, element: elements?.[0], offset: 0, shown: null };
  })).filter(({ element: e }) => e !== undefined);
  const outward = board.given.ends.map(([one, other], e) => [e, one, other]).filter(([, one, other]) => Math.max(one, other) >= board.given.nodes);
  const owner = new Map(Object.entries(board.given.ways).flatMap(([name, ways]) => ways.flat().map((e) => [e, name])));
  const parts = new Map();
  for (const [e, one, other] of outward) {
    const name = owner.get(e);
    if (name && shapes.has(name) && other >= board.given.nodes) parts.set(name, [...(parts.get(name) || []), e]);
  }
  for (const name of shapes.keys()) if (!parts.has(name)) parts.set(name, []);
  blowing = [...parts].filter(([name]) => shapes.has(name)).map(([name, elements]) => {
    const puff = puffAt(name);
    const extras = board.given.failures.filter(([part]) => part === name).flatMap(([, , { adds }]) => adds);
    return { name, elements, extras: [...new Set(extras)], puff, on: false };
  });
  rods = Object.entries(data.wheels).filter(([name]) => shapes.has(name)).map(([name, wheel]) => rodOf(name, wheel)).filter(Boolean);
}

/* The tip of an exhaust's triangle, or the foot of the picture. */
function puffAt(name) {
  const shape = shapes.get(name);
  const triangle = [...shape.querySelectorAll("path")].map((path) => /^M([\d.]+) ([\d.]+)L([\d.]+) \2L([\d.]+) ([\d.]+)Z/.exec(path.getAttribute("d") || "")).find(Boolean);
  const puff = mark("g", { class: "puff" });
  const box = boxOf(shape);
  const [x, y] = triangle ? [Number(triangle[4]), Number(triangle[5])] : [box.x + box.width / 2, box.y + box.height];
  puff.append(...[[-7, 12], [0, 15], [7, 12]].map(([dx, dy]) => mark("path", { d: `M${x + dx / 3} ${y + 1}L${x + dx} ${y + dy}` })));
  puff.setAttribute("visibility", "hidden");
  ground.append(puff);
  return puff;
}

/* A chamber's rod as it moves, and how hard its wheel is braked. */
function rodOf(name, wheel) {
  const block = shapes.get(name).querySelector("rect:not(.hit)");
  if (!block || !block.getAttribute("rx")) return null;
  const [x, y, width, height] = ["x", "y", "width", "height"].map((key) => Number(block.getAttribute(key)));
  const rod = mark("rect", { x: x - 26, y: y + height / 2 - 4, width: 5, height: 8, class: "rod" });
  const shoe = mark("rect", { x: x - 1, y: y - 1, width: width + 2, height: height + 2, rx: 7, class: "shoe", "stroke-width": 0 });
  const group = mark("g", {});
  group.append(shoe, rod);
  ground.append(group);
  return { name, wheel, rod, shoe, at: null };
}

const within = (value, least, most) => Math.min(most, Math.max(least, value));

/* Travel, force, torque and force at the tyre of a chamber by its pressures, gauge Pa. */
function pushOf(wheel, service, spring) {
  const shut = wheel.off === null || spring === null ? 0 : 1 - within((spring - wheel.from) / (wheel.off - wheel.from), 0, 1);
  const travel = service < wheel.touches ? wheel.clearance * within((service - wheel.moves) / (wheel.touches - wheel.moves), 0, 1)
    : wheel.clearance + wheel.gives * (service - wheel.touches);
  const bySpring = shut * (wheel.spring ?? 0);
  const force = Math.max(0, service * wheel.area - wheel.returns) + bySpring;
  return { travel: Math.min(wheel.stroke, Math.max(travel, shut * wheel.clearance)), force, bySpring,
    torque: wheel.gain === null ? null : force * wheel.gain,
    tyre: wheel.gain === null || wheel.tyre === null ? null : force * wheel.gain / wheel.tyre };
}

function pushAt(name) {
  const bar = data.bars.find((each) => each.name === name);
  const idle = board.condition.failures.some(([number]) => {
    const [part, failure] = board.given.failures[number];
    return part === name && data.parts[name].failures.find(([each]) => each === failure)?.[2];
  });
  return pushOf(data.wheels[name], idle ? 0 : liveAt(bar.service) * 1e3, bar.spring === null ? null : liveAt(bar.spring) * 1e3);
}

function seen() {
  const flow = (e) => board.row[shelf.flow + e];
  for (const each of flowing) {
    const now = flow(each.element);
    const shown = Math.abs(now) > FLOWS;
    if (shown !== each.shown) {
      each.shown = shown;
      each.trail.setAttribute("visibility", shown ? "visible" : "hidden");
    }
    if (!shown || still.matches) continue;
    each.offset -= Math.sign(now) * within(Math.sqrt(Math.abs(now)) * 12, 0.4, 4);
    each.trail.setAttribute("stroke-dashoffset", each.offset.toFixed(1));
  }
  for (const each of blowing) {
    let out = 0;
    for (const e of each.elements) if (gaugeAt(board.given.ends[e][0]) > LEAST_AHEAD) out += flow(e);
    for (const place of each.extras) out += Math.abs(board.row[shelf.extra + place]);
    for (const [node, , where] of board.condition.leaks) {
      if (where.startsWith(`${each.name}.`)) out += Math.abs(board.row[shelf.extra + board.given.leaks[node]]);
    }
    const on = out > BLOWS;
    if (on !== each.on) {
      each.on = on;
      each.puff.setAttribute("visibility", on ? "visible" : "hidden");
    }
  }
  for (const each of rods) {
    const { travel, force } = pushAt(each.name);
    const now = `${Math.round(travel * 500)} ${Math.round(force / 200)}`;
    if (now === each.at) continue;
    each.at = now;
    each.rod.setAttribute("transform", `translate(${(travel * 250).toFixed(1)},0)`);
    each.shoe.setAttribute("stroke-width", within(force / 2500, 0, 4).toFixed(1));
  }
}

/* --- what is noticed ------------------------------------------------------------------------------------------------ */

function noticed() {
  const air = blowing.filter(({ on }) => on).map(({ name }) => name);
  const lamps = data.lamps.filter(isLit).map(({ name, below }) => (below === undefined ? `${name} lit` : `${name} WARNS`));
  const springs = data.bars.filter((bar) => bar.spring !== null && data.wheels[bar.name] && pushAt(bar.name).bySpring > 0.5 * data.wheels[bar.name].spring);
  const axles = [...new Set(springs.map((bar) => bar.axle))];
  return [...lamps, ...(air.length ? [`air is heard at ${air.join(", ")}`] : []),
    ...(axles.length ? [`springs hold ${axles.join(", ")}`] : [])];
}

const buzzes = () => data.lamps.some((lamp) => lamp.below !== undefined && isLit(lamp));

/* Heard only by whoever has asked for it. */
function buzz() {
  const on = document.getElementById("sound").getAttribute("aria-pressed") === "true" && buzzes() && board.running;
  if (on === Boolean(buzzer)) return;
  if (!on) {
    buzzer.close();
    buzzer = null;
    return;
  }
  buzzer = new AudioContext();
  const tone = buzzer.createOscillator(), loud = buzzer.createGain();
  tone.type = "square";
  tone.frequency.value = 320;
  loud.gain.value = 0.04;
  tone.connect(loud).connect(buzzer.destination);
  tone.start();
}
