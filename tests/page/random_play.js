/* A play by chance, the same for a seed: hands, failures, holes and screws between frames of any length. Returns every moment
   that was shown, [s, pressures], and the play as a trial. */
async ([seed, seconds]) => {
  let state = seed * 2654435761 >>> 0;
  const chance = () => { state = (Math.imul(state ^ state >>> 15, 1 | state) + 0x6d2b79f5) >>> 0; return state / 4294967296; };
  const one = (list) => list[Math.floor(chance() * list.length)];
  halt();
  await begin(Math.floor(chance() * board.given.levels.length), chance() < 0.2 ? "parked" : "driving");
  const shown = [[board.row[0], Array.from(board.row.slice(2, 2 + board.given.nodes))]];
  const settled = async () => { while (sending || wished.size) await new Promise((then) => setTimeout(then, 0)); };
  const deeds = [
    async () => {
      const hand = one(board.given.hands);
      if (hand.sort === "knob" || hand.sort === "choice") return put(hand, Math.floor(chance() * hand.ways.length));
      if (hand.sort === "feed") return feedTo(hand, 5 * Math.round(chance() * 140));
      if (hand.sort === "engine") return put(hand, Math.floor(chance() * 2));
      return putTo(hand, Math.round(100 * (hand.low + chance() * (hand.high - hand.low))) / 100);
    },
    async () => {
      const pedal = board.given.hands.find((hand) => hand.sort === "pedal");
      if (pedal) await putTo(pedal, chance() < 0.3 ? 0 : Math.round(chance() * 100) / 100);
    },
    async () => fail(Math.floor(chance() * board.given.failures.length), Math.round(chance() * 99 + 1) / 100),
    async () => { if (board.condition.failures.length) await fail(one(board.condition.failures)[0], 0); },
    async () => bore(one(Object.keys(board.given.places)), chance() < 0.3 ? 0 : 0.5 * Math.ceil(chance() * 8)),
    async () => {
      if (!board.given.turns.length) return;
      const number = Math.floor(chance() * board.given.turns.length);
      await turn(number, Math.round((board.given.turns[number][2] + 1e5 * (chance() - 0.6)) / 1000) * 1000 + 25);
    },
  ];
  while (board.row[0] < seconds) {
    if (chance() < 0.12) { await one(deeds)(); await settled(); }
    await goOn(Math.ceil((0.005 + 0.1 * chance() * chance()) * 1000) / 1000);
    if (board.trouble) break;
    shown.push([board.row[0], Array.from(board.row.slice(2, 2 + board.given.nodes))]);
  }
  return { shown, trial: asTrial(), trouble: board.trouble };
}
