/* Every symbol's live state: a green line through it by each way that stands open, the bolder while air runs, and a black block
   where all of them are shut and hold. */
const OPENS = 0.02;    // share from which a seat counts as open, as in a section picture
const PUSHED = 1.3e3;  // Pa of push that open it so far: 15 kPa open it wholly
let symbols = [];

function setSeats() {
  const parts = new Map();
  for (const way of sheet.querySelectorAll(".inner")) {
    const holder = way.closest("[data-name]"), name = holder?.dataset.name;
    const rows = board.given.ways[name];
    if (!rows) continue;
    const elements = way.dataset.ways.split(" ").flatMap((place) => rows[place] ?? []);
    if (!elements.length) continue;
    if (!parts.has(holder)) parts.set(holder, { name, ways: [], block: holder.querySelector(".lapped"), shut: null });
    parts.get(holder).ways.push({ way, elements, open: null, runs: null });
  }
  symbols = [...parts.values()];
}

/* Whether an element stands open: pushed so by what moves it, or, where something has failed in the part, as the engine has it. */
function standsOpen(e, failed) {
  const opened = board.row[shelf.opened + e] > OPENS;
  return failed ? opened : opened || board.row[shelf.push + e] > PUSHED;
}

function drawSeats() {
  if (!board.row) return;
  const failed = new Set(board.condition.failures.map(([number]) => board.given.failures[number][0]));
  for (const symbol of symbols) {
    let any = false;
    for (const each of symbol.ways) {
      const open = each.elements.some((e) => standsOpen(e, failed.has(symbol.name)));
      const runs = open && each.elements.some((e) => Math.abs(board.row[shelf.flow + e]) > FLOWS);
      any ||= open;
      if (open !== each.open) each.way.classList.toggle("open", each.open = open);
      if (runs !== each.runs) each.way.classList.toggle("runs", each.runs = runs);
    }
    if (symbol.shut !== !any) symbol.block?.classList.toggle("shut", symbol.shut = !any);
  }
}

board.onframe(drawSeats);
