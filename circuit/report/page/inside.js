/* Inside a part: its section picture beside the drawing, moved by how far the engine has its passages open.

   cut.data comes from cutaways.py: pictures by kind, reasons by part. A picture's marks carry `data-spots` (x y move weight ...),
   its air `data-air` (a port), what tells a seat `data-seat` (its ways), arrows `data-flow`, figures `data-pressure`. */
const cut = { data: null, opening: null, name: "", moving: [], airs: [], seats: [], flows: [], figures: [], says: null, heard: null, heardWas: "" };
const TURN = 1600;  // ms of screen time for one stroke of a pump, up and down: an illustration
const cutRoom = document.getElementById("section");

async function openCut() {
  const words = document.getElementById("sections").textContent;
  const bytes = Uint8Array.from(atob(words), (letter) => letter.charCodeAt(0));
  const opened = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  cut.data = JSON.parse(await new Response(opened).text());
}

/* --- the picture of a part ------------------------------------------------------------------------------------------- */

async function cutOpen(name) {
  cut.name = name;
  cutRoom.hidden = true;
  if (!cut.data) await (cut.opening ??= openCut());
  const found = cut.data.parts[name];
  if (cut.name !== name || !found) return;
  const about = cut.data.kinds[found[0]];
  const whole = about.svg.replace("</title>", (end) => end + cut.data.looks);
  const svg = document.importNode(new DOMParser().parseFromString(whole, "image/svg+xml").documentElement, true);
  svg.querySelector("title").remove();
  svg.setAttribute("role", "img");
  svg.style.minWidth = `${Math.round(svg.viewBox.baseVal.width * 0.77)}px`;  // so that no letter of 12 px is under 9
  cut.about = about;
  cut.reasons = cut.data.reasons[found[1]];
  cut.svg = svg;
  gather(svg);
  cut.says = element("p", "", "says-inside");
  cut.heard = element("p", "", "unseen");
  cut.heard.setAttribute("role", "status");
  cut.heardWas = "";
  const frame = element("div", undefined, "cut");
  frame.tabIndex = 0;
  frame.setAttribute("role", "region");
  frame.setAttribute("aria-label", `${name} cut open`);
  frame.append(svg);
  cutRoom.replaceChildren(frame, cut.says, element("p", `${about.note ? `${about.note}. ` : ""}Travel exaggerated; predicted`, "small"), cut.heard);
  cutRoom.hidden = false;
  cutNow();
}

const spotsOf = (words) => words.split(";").map((each) => {
  const [x, y, ...moves] = each.split(" ");
  const pairs = [];
  for (let n = 0; n < moves.length; n += 2) pairs.push([moves[n], Number(moves[n + 1])]);
  return [10 * x, 10 * y, pairs];
});
const waysOf = (words) => words.split(" ");

function gather(svg) {
  const all = (name) => [...svg.querySelectorAll(`[data-${name}]`)];
  cut.moving = all("spots").filter((mark) => !mark.closest("[data-flow]")).map((mark) => ({ mark, spots: spotsOf(mark.dataset.spots), closed: "closed" in mark.dataset }));
  cut.dots = all("dot").map((mark) => ({ mark, spots: spotsOf(mark.dataset.dot), from: mark.getAttribute("d")?.split("L")[0] }));
  cut.airs = all("air").map((mark) => ({ mark, port: mark.dataset.air, is: null }));
  cut.seats = all("seat").map((mark) => ({ mark, ways: waysOf(mark.dataset.seat), word: mark.dataset.word, is: null }));
  cut.flows = all("flow").map((mark) => ({ mark, ways: waysOf(mark.dataset.flow), is: null,
    paths: [...mark.children].map((path) => ({ path, points: path.getAttribute("d").slice(1).split("L") })) }));
  cut.figures = all("pressure").map((mark) => ({ mark, port: mark.dataset.pressure }));
}

/* --- how a part stands ----------------------------------------------------------------------------------------------- */

const smooth = (push) => { const part = Math.min(1, Math.max(0, push / cut.data.limits.wide)); return part * part * (3 - 2 * part); };
const drawn = (share) => (share <= cut.data.limits.shut ? 0 : cut.data.limits.least + (1 - cut.data.limits.least) * Math.min(share, 1));

function along(knots, at) {
  if (at <= knots[0][0]) return knots[0][1];
  for (let n = 1; n < knots.length; n++) {
    const [[x0, y0], [x1, y1]] = [knots[n - 1], knots[n]];
    if (at <= x1) return y0 + (y1 - y0) * (at - x0) / (x1 - x0);
  }
  return knots.at(-1)[1];
}

/* A pump's valves and stroke; see report/inside/openings.py. Its cycle is that of the screen. */
function pumping(rests, turns, pressures, ambient) {
  const cycle = turns && !stillPicture.matches ? performance.now() % TURN / TURN : 0.3;
  const inlet = Math.max(rests, Number(cycle > 0.05 && cycle < 0.5)), discharge = (1 - rests) * Number(cycle > 0.7);
  const over = rests > 0.5 || cycle <= 0.5 ? (cycle <= 0.5 ? -5e3 : 5e3)
    : Math.min(1, (cycle - 0.5) / 0.2) * ((pressures["2"] ?? ambient) - ambient + 2e4);
  return { shares: turns ? { "0>cylinder": inlet, "cylinder>2": discharge } : { "0>cylinder": rests, "cylinder>2": 0 }, cylinder: ambient + over,
    values: { rests, stroke: 0.5 - 0.5 * Math.cos(2 * Math.PI * cycle), cycle } };
}
const stillPicture = matchMedia("(prefers-reduced-motion: reduce)");

/* Everything that the picture and the sentence are made from. What pushes a seat counts, and where a failure holds it the
   engine's own opening, which takes it for shut too while air would go backwards. */
function standing(name) {
  const part = board.part(name), { about, reasons } = cut, ambient = board.given.ambient;
  const failures = part.failures.length > 0;
  const pressures = Object.fromEntries(Object.entries(part.pressures).map(([port, kpa]) => [port, ambient + kpa * 1e3]));
  const opened = about.ways.map((way, place) => {
    const push = part.pushes[place];
    return failures || push === null ? part.openings[place] : Math.max(smooth(push), part.openings[place]);
  });
  const state = { ...about.rest, ...part.states };
  const shares = {};
  about.ways.forEach(([start, end], place) => { const way = `${start}>${end}`; shares[way] = Math.max(shares[way] ?? 0, opened[place]); });
  const now = { pressures, opened, state, shares, pushes: part.pushes, failures, settings: part.settings, values: { ...state } };
  if (about.pump) {
    const rests = reasons.rests ? smooth(Why.open(about, reasons, now).number(reasons.rests)) : 0;
    const pump = pumping(rests, (state.turns ?? 0) > 0, pressures, ambient);
    Object.assign(shares, pump.shares);
    Object.assign(now.values, pump.values);
    pressures.cylinder = pump.cylinder;
  }
  for (const [inner, ports] of Object.entries(about.higher)) pressures[inner] = Math.max(...ports.map((port) => pressures[port] ?? ambient));
  for (const [value, [port, knots]] of Object.entries(about.courses)) now.values[value] = along(knots, ((pressures[port] ?? ambient) - ambient) / 1e5);
  for (const [way, share] of Object.entries(shares)) now.values[way] = drawn(share);
  return now;
}

/* 1 where air passes a way as it is named, -1 backwards, 0 where it stands. */
function runsBy(way, now) {
  if ((now.shares[way] ?? 0) <= cut.data.limits.shut) return 0;
  const [start, end] = way.split(">"), ambient = board.given.ambient;
  const ahead = (now.pressures[start] ?? ambient) - (now.pressures[end] ?? ambient);
  if (Math.abs(ahead) < cut.data.limits.level) return 0;
  return ahead > 0 ? 1 : cut.about.ways.some(([s, e, both]) => both && `${s}>${e}` === way) ? -1 : 0;
}

function runs(ways, now) {
  const [start, end] = ways[0].split(">");
  for (const way of ways) {
    const goes = runsBy(way, now);
    if (goes) return way.startsWith(`${start}>`) || way.endsWith(`>${end}`) ? goes : -goes;
  }
  return 0;
}

/* --- drawing it ------------------------------------------------------------------------------------------------------ */

function placer(now) {
  const amounts = {};
  for (const [name, move] of Object.entries(cut.about.moves)) {
    const sum = Object.entries(move.by).reduce((total, [value, weight]) => total + weight * (now.values[value] ?? 0), 0);
    amounts[name] = Math.min(move.high, Math.max(move.low, sum));
  }
  return ([x, y, moves]) => {
    for (const [name, weight] of moves) {
      const move = cut.about.moves[name], far = weight * amounts[name];
      if (move.turn) {
        const [cx, cy, degrees] = move.turn, angle = degrees * far * Math.PI / 180, c = Math.cos(angle), s = Math.sin(angle);
        [x, y] = [cx + (x - cx) * c - (y - cy) * s, cy + (x - cx) * s + (y - cy) * c];
      } else {
        x += move.dx * far;
        y += move.dy * far;
      }
    }
    return `${x.toFixed(1)} ${y.toFixed(1)}`;
  };
}

function cutNow() {
  if (cutRoom.hidden || beside.hidden || !cut.svg || !board.row) return;
  const now = standing(cut.name), place = placer(now), ambient = board.given.ambient;
  for (const { mark, spots, closed } of cut.moving) mark.setAttribute("d", `M${spots.map(place).join("L")}${closed ? "Z" : ""}`);
  for (const { mark, spots, from } of cut.dots) {
    const ends = spots.map((spot) => place(spot).split(" ").map(Number));
    const [x, y] = [0, 1].map((axis) => ends.reduce((sum, end) => sum + end[axis], 0) / ends.length);
    if (from) mark.setAttribute("d", `${from}L${x.toFixed(1)} ${y.toFixed(1)}`);
    else { mark.setAttribute("cx", x.toFixed(1)); mark.setAttribute("cy", y.toFixed(1)); }
  }
  for (const each of cut.airs) {
    const kpa = ((now.pressures[each.port] ?? ambient) - ambient) / 1e3;
    const number = Math.max(0, data.bands.findLastIndex(([above]) => kpa >= above));
    if (each.is !== number) each.mark.setAttribute("fill", `url(#i-a${each.is = number})`);
  }
  for (const each of cut.seats) {
    const open = Math.max(...each.ways.map((way) => now.shares[way] ?? 0)) > cut.data.limits.shut;
    if (each.is === open) continue;
    each.is = open;
    if (each.word) { each.mark.textContent = `${each.word} ${open ? "open" : "shut"}`; each.mark.removeAttribute("font-weight"); }
    if (each.mark.tagName !== "path") each.mark.setAttribute("class", open ? "open" : each.word ? "ink" : "shut");
  }
  for (const each of cut.flows) {
    const goes = runs(each.ways, now);
    if (each.is === goes) continue;
    each.is = goes;
    each.mark.setAttribute("visibility", goes ? "visible" : "hidden");
    for (const { path, points } of each.paths) path.setAttribute("d", `M${(goes < 0 ? [...points].reverse() : points).join("L")}`);
  }
  for (const { mark, port } of cut.figures) mark.textContent = written(Math.max(0, ((now.pressures[port] ?? ambient) - ambient) / 1e3));
  tellCut(now);
}

/* The sentence, and for a reader of the screen only what has opened or shut. */
function tellCut(now) {
  const says = cut.about.ways.length ? Why.open(cut.about, cut.reasons, now).sentence() : working(now);
  if (cut.says.textContent !== says) cut.says.textContent = says;
  const words = cut.seats.filter(({ word }) => word).map(({ word, is }) => `${word} ${is ? "open" : "shut"}`).join(", ");
  if (words !== cut.heardWas) cut.heard.textContent = `${cut.name}: ${cut.heardWas = words}`;
  cut.svg.setAttribute("aria-label", `${cut.name} cut open: ${words || says}`);
}

/* A part without passages: see report/inside/working.py. */
function working(now) {
  const why = Why.open(cut.about, cut.reasons, now), ambient = board.given.ambient, ports = cut.about.ports.map(([port]) => port);
  const has = (port) => `${port} has ${why.pressure(why.at(port))}`;
  if (cut.about.pump) {
    const [[port, weight]] = Object.entries(why.leaf(cut.reasons.rests).weights), limit = -cut.reasons.rests.c / weight;
    if (why.at(port) >= limit) return `${has(port)}, above the ${why.pressure(limit)} that unload it: the pins hold the inlet open, the air goes back and forth and none is delivered`;
    if (!(now.state.turns > 0)) return `${has(port)}, below the ${why.pressure(limit)} that unload it: the engine stands still`;
    return `${has(port)}, below the ${why.pressure(limit)} that unload it: it pumps, and delivers at 2 against ${why.pressure(why.at("2"))}`;
  }
  const off = cut.reasons.off, gauge = why.at(ports[0]) - ambient, said = [];
  if (off !== undefined) {
    const spring = why.at(ports[1]);
    said.push(spring >= off ? `${has(ports[1])}, above ${why.pressure(off)}: the spring is held off`
      : `${has(ports[1])} of the ${why.pressure(off)} that hold the spring off: it pushes ${spring - ambient < 25e3 ? "with all its force" : "with what the air leaves of its force"}`);
    if (spring < off && gauge < 25e3) return said[0];
  }
  said.push(`${has(ports[0])}: ` + (gauge < 25e3 ? "the return spring keeps the diaphragm back" : gauge < 7e4 ? "the rod takes up the clearance, the shoes do not press yet"
    : "the rod pushes with that pressure times the diaphragm's area, and the cam parts the shoes"));
  return said.join("; ");
}

board.onchoose(cutOpen);
board.onframe(cutNow);
