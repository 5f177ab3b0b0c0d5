/* One sentence of what a part does now and why: what report/inside/sentence.py and reasons.py make, from the same sums.

   now: pressures (absolute Pa by port), state, opened (share by passage), pushes (Pa by passage or null), settings. */
const Why = {
  open(about, reasons, now) { return Object.assign(Object.create(Why), { about, reasons, now, ambient: board.given.ambient }); },
  at(port) { return this.now.pressures[port] ?? this.ambient; },
  places: () => (unit === "psi" ? 0 : 1),
  pressure(value, fine = false) { return `${(Math.max(0, value - this.ambient) / 1e3 / units[unit][0]).toFixed(this.places() + fine)} ${unit}`; },
  difference(value, fine = false) { return `${(value / 1e3 / units[unit][0]).toFixed(this.places() + fine)} ${unit}`; },

  number({ c, p = {}, u = {}, f = [] }) {
    let total = c;
    for (const [port, weight] of Object.entries(p)) total += weight * this.at(port);
    for (const [name, weight] of Object.entries(u)) total += weight * (this.now.state[name] ?? 0);
    for (const [weight, port, factor] of f) total += weight * this.at(port) * this.number(factor);
    return total;
  },

  /* The sum that holds now: weights by port, the rest, and which state variables are in it or chose it. */
  leaf(tree, push = null) {
    const decided = [];
    let now = tree;
    while (Array.isArray(now)) {
      decided.push(...Object.keys(now[0].u ?? {}));
      now = this.number(now[0]) > 0 ? now[1] : now[2];
    }
    const weights = { ...(now.p ?? {}) }, asked = Object.keys(now.u ?? {});
    for (const [weight, port, factor] of now.f ?? []) {
      weights[port] = (weights[port] ?? 0) + weight * this.number(factor);
      asked.push(...Object.keys(factor.u ?? {}));
    }
    for (const [port, weight] of Object.entries(weights)) if (Math.abs(weight) < 1e-9) delete weights[port];
    const sensed = Object.entries(weights).reduce((sum, [port, weight]) => sum + weight * this.at(port), 0);
    const whole = push === null || this.now.failures ? this.number(now) : push;
    return { weights, rest: whole - sensed, asked: [...new Set(asked)], decided: [...new Set(decided)] };
  },
  leafOf(place) { return this.reasons.trees[place] ? this.leaf(this.reasons.trees[place], this.now.pushes[place]) : null; },

  hands({ decided }) { return decided.filter((name) => !this.about.sets[name]); },
  stand(names) {
    const on = names.filter((name) => this.now.state[name] > 0.5);
    const words = (name, is) => (name.endsWith("ed") ? `it is ${is ? "" : "not "}${name}` : `${name} is ${is ? "on" : "off"}`);
    return on.map((name) => words(name, true)).join(" and ") || names.map((name) => words(name, false)).join(" and ");
  },
  latched(names) {
    for (const name of names) {
      const over = this.now.state[name] > 0.5, both = this.reasons.latches[name];
      const found = both?.[over ? 0 : 1];
      if (!found || !this.about.sets[name]) continue;
      const [[port, weight] = [], ...more] = Object.entries(found[0].p ?? {});
      if (!port || more.length) continue;
      const turned = this.now.settings?.[found[1]];
      const has = this.at(port), limit = turned ?? -found[0].c / weight, fine = Math.abs(has - limit) < 0.15e5;
      return `${port} has ${this.pressure(has, fine)} and has not ${weight > 0 ? "risen" : "fallen"} to ${this.pressure(limit, fine)}`;
    }
    return "";
  },
  pair({ weights }) {
    const ahead = Object.keys(weights).filter((port) => weights[port] > 0), behind = Object.keys(weights).filter((port) => weights[port] < 0);
    const two = ahead.length === 1 && behind.length === 1 && Math.abs(weights[ahead[0]] + weights[behind[0]]) < 1e-6;
    return two ? [ahead[0], behind[0]] : null;
  },
  compared(leaf) {
    const pair = this.pair(leaf);
    if (!pair) return "";
    const [ahead, behind] = pair, by = this.at(ahead) - this.at(behind);
    if (by < -100) return `${ahead} is no more than ${this.difference(-by, -by < 0.15e5)} behind ${behind}`;
    return by <= 100 ? `${ahead} and ${behind} are level` : `${ahead} is ${this.difference(by, by < 0.15e5)} ahead of ${behind}`;
  },
  askedFor([start, end], { weights, rest, asked }) {
    const ports = this.about.ports.map(([port]) => port).filter((port) => port in weights);
    const sum = (but) => ports.reduce((total, port) => total + (port === but ? 0 : weights[port] * this.at(port)), rest);
    if (ports.length > 1 && Math.min(...Object.values(weights)) > 0) {
      const lift = ports.map((port) => `${port} with ${this.pressure(this.at(port))}`).join(" and ");
      return sum() > 0 ? `${lift} lift it together` : `${lift} do not lift it`;
    }
    const port = ports.length === 1 ? ports[0] : [end, start].find((each) => each in weights) ?? ports[0];
    const has = this.at(port), limit = -sum(port) / weights[port], fine = Math.abs(has - limit) < 0.15e5;
    if (ports.length === 1 && !asked.length) return `${port} is ${this.pressure(has, fine)}, ${has > limit ? "above" : "below"} ${this.pressure(limit, fine)}`;
    const names = asked.length ? asked : ports.filter((each) => each !== port);
    const who = (asked.length ? `the ${names[0]}` : names.join(" and ")) + (names.length === 1 ? " asks" : " ask");
    return `${who} for ${limit > this.ambient + 100 ? this.pressure(limit, fine) : "nothing"} at ${port}, which has ${this.pressure(has, fine)}`;
  },
  opened(place) {
    const way = this.about.ways[place], says = way[3].replace(/^open /, "").replace(/^while /, "");
    const leaf = this.leafOf(place);
    if (!leaf) return says;
    const hands = this.hands(leaf);
    if (!Object.keys(leaf.weights).length) return this.latched(leaf.decided) || (` ${says}`.includes(" or ") && hands.length ? this.stand(hands) : says);
    const numbers = this.compared(leaf) || this.askedFor(way, leaf);
    return hands.length && !leaf.asked.length ? `${says.split(" and ")[0].split(",")[0]}, and ${numbers}` : numbers;
  },
  shut(place) {
    const way = this.about.ways[place], leaf = this.leafOf(place);
    if (!leaf || !Object.keys(leaf.weights).length) {
      const words = way[3].replace(/^open /, "");
      const stand = leaf && (words.includes(" and ") || words.includes(",")) ? this.stand(this.hands(leaf)) : "";
      return (leaf ? this.latched(leaf.decided) : "") || stand || `it is open only ${words}`;
    }
    const pair = this.pair(leaf);
    if (!pair) return this.askedFor(way, leaf);
    const [ahead, behind] = pair, by = this.at(ahead) - this.at(behind), needs = -leaf.rest / leaf.weights[ahead];
    if (by < -100) return `${behind} is ${this.difference(-by, -by < 0.15e5)} ahead of ${ahead}`;
    if (by <= 100) return `${ahead} and ${behind} are level`;
    return `${ahead} is ${this.difference(by, by < 0.15e5)} ahead of ${behind}, of the ${this.difference(needs, true)} that open it`;
  },

  /* What flows, what stands open without a flow, what is held. */
  sentence() {
    const { ways, ports } = this.about, limits = cut.data.limits;
    const role = Object.fromEntries(ports);
    const isVent = (port) => port === "outside" || role[port] === "exhaust";
    const ahead = (place) => this.at(ways[place][0]) - this.at(ways[place][1]);
    const isShut = (place) => ways.every(([s, e], other) => s !== ways[place][0] || e !== ways[place][1] || this.now.opened[other] <= limits.shut);
    const found = new Map();
    ways.forEach(([start, end], place) => {
      if (isShut(place)) return;
      const key = [start, end].sort().join(">");
      if (!found.has(key) || (ahead(place) > 0 && ahead(found.get(key)) <= 0)) found.set(key, place);
    });
    const standing = [...found.values()];
    const runs = (place) => Math.abs(ahead(place)) >= limits.level && (ways[place][2] || ahead(place) > 0);
    const flowing = standing.filter(runs);
    let still = standing.filter((place) => !runs(place));
    const told = flowing.map((place) => this.flowing(place, ahead(place), isVent, role));
    const busy = new Set(flowing.flatMap((place) => ways[place].slice(0, 2)).filter((port) => !isVent(port)));
    told.push(...this.still(still.filter((place) => !busy.has(ways[place][0]) && !busy.has(ways[place][1])), isVent));
    still.forEach((place) => { busy.add(ways[place][0]); busy.add(ways[place][1]); });
    const kept = ports.map(([port]) => port).filter((port) => role[port] === "delivery" && !busy.has(port) && this.at(port) - this.ambient > limits.empty);
    const words = kept.map((port) => `${port} is held at ${this.pressure(this.at(port))}`).join(" and ");
    if (standing.length) {
      const back = ways.findIndex(([start, end, , , narrow], place) => isShut(place) && !narrow && ![start, end].some((port) => busy.has(port) || isVent(port)) && ahead(place) > limits.kept);
      if (back >= 0) told.push(`${this.shut(back)}: ${ways[back][0]} to ${ways[back][1]} is shut`);
      if (words) told.push(words);
    } else {
      const one = new Set(ways.map(([start, end]) => `${start}>${end}`)).size === 1;
      told.push(`${this.shut(0)}: ${one ? "the seat is" : "all seats are"} shut` + (words ? `, ${words}` : ""));
    }
    return [...new Set(told)].join("; ");
  },
  flowing(place, ahead, isVent, role) {
    const way = this.about.ways[place];
    const [start, end] = ahead < 0 ? [way[1], way[0]] : way;
    const goes = end === "outside" ? `air of ${start} goes out` : isVent(end) ? `${start} vents to ${end}`
      : role[end] === "supply" || ahead < 0 ? `air of ${start} goes back to ${end}` : `${start} feeds ${end}`;
    return way[5] ? `${goes}, by a way that is always open` : `${this.opened(place)}, so ${goes}`;
  },
  still(places, isVent) {
    const told = [], limits = cut.data.limits;
    let groups = [];
    for (const place of places) {
      const [start, end] = this.about.ways[place];
      if (isVent(start) || isVent(end)) {
        told.push(`${start} stands open to ${end === "outside" ? "the air" : end}` + (this.at(start) - this.ambient > limits.empty ? "" : " and is empty"));
        continue;
      }
      const met = groups.filter((group) => group.has(start) || group.has(end));
      groups = [...groups.filter((group) => !met.includes(group)), new Set([start, end, ...met.flatMap((group) => [...group])])];
    }
    for (const group of groups) {
      const ports = this.about.ports.map(([port]) => port).filter((port) => group.has(port));
      const most = Math.max(...ports.map((port) => this.at(port)));
      const how = most - this.ambient > limits.empty ? `at ${this.pressure(most)}: nothing flows` : "and are empty";
      told.push(`${ports.slice(0, -1).join(", ")} and ${ports.at(-1)} stand open to each other ${how}`);
    }
    return told;
  },
};
