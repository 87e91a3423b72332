// All sheets with the pieces on them: laid by the desk, moved by the maker, each move proved by the desk.

import { ask } from "./ask.js";
import { button, html, svg } from "./build.js";
import { Mover } from "./sheet_moves.js";
import { sheetSentence } from "./sheet_words.js";

const held = { recipe: null, width: 0, answer: null, chosen: null, turn: "90", bench: null, queue: Promise.resolve() };

/** Return the view of all sheets, now where they are known, else when they are laid. */
export async function onTheSheet(desk) {
  const recipe = desk.recipe();
  // What is held in the hand is not taken out of it: its own end shows all anew.
  if (held.bench?.mover.isBusy() && held.recipe === recipe) return null;
  if (held.recipe !== recipe || held.width !== desk.width() || !held.answer) {
    const answer = await desk.ask("sheets", { recipe, width: desk.width() });
    if (answer.replaced) return null;
    if (answer.stopped) return [html("p", { class: "hint" }, "Stopped. Choose what to show, or change something, and the pieces are laid anew.")];
    Object.assign(held, { recipe, width: desk.width(), answer });
  }
  return shown(desk);
}

function shown(desk) {
  const { answer } = held;
  const sentence = answer.terms ? [html("div", { class: "sheets-say" }, ...sheetSentence(answer.terms, (options, leaveOut) => desk.change(options, leaveOut)))] : [];
  held.bench = null;
  if (answer.refused) return [...sentence, html("div", { class: "not-laid" }, ...desk.message(answer.refused))];
  held.bench = new Bench(desk);
  return [...sentence, ...held.bench.nodes()];
}

/** The sheets as they are shown, with the piece that is chosen and what can be done with it. */
class Bench {
  constructor(desk) {
    this.desk = desk;
    this.answer = held.answer;
    this.pieces = new Map(this.answer.pieces.map((piece) => [piece.row, { ...piece }]));
    this.nodesOf = new Map();
    this.sheets = [];
    this.status = html("p", { class: "near", role: "status" });
    this.tools = html("div", { class: "tools" });
    this.mover = new Mover(this);
  }

  nodes() {
    const { answer } = this;
    const drawn = answer.sheets.map((sheet, at) => this.sheet(sheet, at));
    if (!this.pieces.has(held.chosen)) held.chosen = null;
    this.choose(held.chosen);
    return [
      html("div", { class: "hold" }, this.status, this.tools),
      this.faults(),
      ...drawn,
      html("ul", { class: "said" }, ...answer.said.map((line) => html("li", {}, line))),
      this.endings(),
    ];
  }

  endings() {
    const { answer, desk } = this;
    // Without anything else said of sheets, none would be asked for any more.
    const isBare = !Object.keys(answer.terms.said).length;
    const anew = answer.is_stated ? button("Lay them anew", () => desk.change(isBare ? { "sheets.sheet": answer.terms.usual.sheet } : {}, ["sheets.laid"])) : null;
    const take = answer.is_asked ? null : button("Write these sheets too", () => desk.change({ "sheets.sheet": answer.terms.usual.sheet }, []));
    const why = answer.is_asked ? null : html("span", { class: "hint" }, "The files are of the pieces alone so far.");
    return html("div", { class: "tools" }, anew, take, why);
  }

  sheet(sheet, at) {
    const drawn = svg("svg", {
      viewBox: `0 0 ${sheet.width} ${sheet.height}`, width: sheet.width, height: sheet.height, class: "sheet", role: "group",
      "aria-label": `${sheet.words}, ${sheet.lines.join(", ")}`,
    });
    const { margin: m, width: w, height: h } = sheet;
    drawn.append(
      svg("rect", { width: w, height: h, fill: sheet.colour, class: "sheet-card" }),
      svg("path", { d: hatching(w, h), class: "waste" }),
      sheet.used ? svg("path", { d: sheet.used, class: "used" }) : "",
      svg("path", { d: `M ${m} ${m} H ${w - m} V ${h - m} H ${m} Z`, class: "margin-line" }),
      ...sheet.rows.map((row) => this.piece(row, sheet)),
      ...this.answer.faults.flatMap((fault, number) => (fault.sheet === at ? [ring(fault, number + 1, w)] : [])),
    );
    this.sheets[at] = drawn;
    return html("figure", { class: "of-sheet", "data-at": at }, html("h2", {}, sheet.words), drawn, html("figcaption", { class: "caption" }, sheet.lines.join(", ")), html("p", { class: "caption" }, `Card: ${sheet.card}`));
  }

  piece(row, sheet) {
    const piece = this.pieces.get(row);
    const shape = this.answer.shapes[piece.shape];
    const isWrong = this.answer.faults.some((fault) => fault.rows.includes(row));
    const turning = svg("g", { class: "turning" },
      shape.openings ? svg("path", { d: shape.openings, class: "opening" }) : null,
      svg("path", { d: shape.path, class: "halo" }),
      svg("path", { d: shape.path, fill: sheet.colour, class: "edge piece-card" }),
      ...shape.lines.map((d) => svg("path", { d, class: "line inner" })),
      piece.number ? svg("g", { class: "number" }, svg("text", {}, piece.number)) : null);
    const node = svg("g", {
      class: isWrong ? "laid wrong" : "laid", tabindex: 0, role: "button", "data-row": row, "aria-pressed": "false",
      "aria-label": `${piece.words} on ${sheet.words}${isWrong ? ", too near" : ""}. Arrows move it, R turns it.`,
    }, turning);
    this.nodesOf.set(row, node);
    this.put(piece);
    this.mover.watch(node, row);
    return node;
  }

  /** Put a piece where it is said to lie. */
  put(piece) {
    const node = this.nodesOf.get(piece.row);
    node.setAttribute("transform", `translate(${piece.x} ${piece.y})`);
    node.firstChild.setAttribute("transform", `rotate(${piece.turn})`);
    const number = node.querySelector(".number");
    const { spot } = this.answer.shapes[piece.shape];
    if (number) number.setAttribute("transform", `translate(${spot.x} ${spot.y}) rotate(${-piece.turn})`);
  }

  choose(row) {
    held.chosen = row;
    for (const [own, node] of this.nodesOf) {
      node.classList.toggle("chosen", own === row);
      node.setAttribute("aria-pressed", String(own === row));
    }
    const piece = this.pieces.get(row);
    if (!piece) {
      this.say("Choose a piece to move it: drag it, or use the arrow keys; with Shift they go further. R turns it.", true);
      this.tools.replaceChildren();
      return;
    }
    const fault = this.answer.faults.find((one) => one.rows.includes(row));
    this.say(fault ? fault.words : `${piece.words} is chosen.`, !fault);
    this.tools.replaceChildren(...this.toolsOf(piece, fault));
  }

  toolsOf(piece, fault) {
    const step = html("input", { type: "text", inputmode: "numeric", size: 5, value: held.turn, "aria-label": "By how many degrees it is turned, clockwise", oninput: () => (held.turn = step.value) });
    const group = this.answer.sheets[piece.sheet].group;
    const others = this.answer.sheets.map((sheet, at) => [sheet, at]).filter(([sheet, at]) => at !== piece.sheet && sheet.group === group);
    return [
      button("Turn", () => this.mover.turn(piece.row, this.turnStep(), true), { disabled: this.answer.turn_step === 0 }),
      html("label", { class: "by" }, "by ", step, " deg"),
      fault ? button("Move it clear", () => this.commit({ row: piece.row, clear: true })) : null,
      ...others.map(([sheet, at]) => button(`To ${sheet.name}`, () => this.commit({ row: piece.row, sheet: at, x: piece.x, y: piece.y, turn: piece.turn }))),
      button("To a new sheet", () => this.commit({ row: piece.row, x: piece.x, y: piece.y, turn: piece.turn })),
    ].filter(Boolean);
  }

  turnStep() {
    const typed = Number.parseFloat(held.turn.replace(",", "."));
    return Number.isFinite(typed) ? typed : 90;
  }

  faults() {
    const { faults } = this.answer;
    if (!faults.length) return html("div", {});
    const row = (fault, at) => html("li", {}, html("button", { type: "button", class: "row", onclick: () => this.go(fault.row) },
      html("strong", {}, String(at + 1)), html("span", { class: "kind" }, "refused"), html("span", { class: "what" }, fault.words)));
    return html("div", {}, html("ol", { class: "findings", "aria-label": "Pieces that lie too near" }, ...faults.map(row)),
      html("p", { class: "hint" }, "No sheet is written until these lie clear."));
  }

  go(row) {
    this.choose(row);
    this.nodesOf.get(row).focus();
    this.nodesOf.get(row).scrollIntoView({ block: "nearest" });
  }

  say(words, isClear) {
    this.status.textContent = words;
    this.status.classList.toggle("wrong", !isClear);
  }

  question(more) {
    return { recipe: held.recipe, laid: held.answer.laid, width: held.width, ...more };
  }

  /** Show how near a piece comes while it is moved. */
  showNear(row, at, answer) {
    this.clearNear();
    if (!answer.marks) return;
    this.say(answer.words, answer.is_clear);
    this.nodesOf.get(row)?.classList.toggle("wrong", !answer.is_clear);
    const sheet = this.sheets[at];
    sheet?.append(svg("g", { class: "nearness" }, ...answer.marks.flatMap(measure)));
  }

  clearNear() {
    for (const sheet of this.sheets) sheet.querySelector(".nearness")?.remove();
  }

  /** Let the desk take a move over; what it answers is shown and goes into the history. */
  commit(move) {
    held.queue = held.queue.then(() => this.taken(move));
    return held.queue;
  }

  async taken(move) {
    if (held.recipe !== this.desk.recipe()) return;
    const answer = await this.desk.ask("moved", this.question(move));
    if (answer.replaced) return;
    if (answer.refused) {
      this.desk.refuse(answer.refused);
    } else {
      this.desk.refuse([]);
      Object.assign(held, { recipe: answer.recipe, answer, chosen: move.row });
      this.desk.adopt(answer.recipe);
    }
    if (this.mover.isBusy()) return;
    const node = this.nodesOf.get(move.row);
    const hadFocus = node?.contains(document.activeElement) ?? false;
    const top = node?.getBoundingClientRect().top ?? 0;
    await this.desk.refresh();
    const fresh = document.querySelector(`.laid[data-row="${move.row}"]`);
    if (!fresh) return;
    if (hadFocus) fresh.focus({ preventScroll: true });
    // The sheet stays where it was on the screen, whatever is said above it now.
    if (Number(fresh.closest("figure").dataset.at) === this.pieces.get(move.row).sheet) window.scrollBy({ top: fresh.getBoundingClientRect().top - top, behavior: "instant" });
  }

  /** Ask how near a piece comes; quick, and not waited for aloud. */
  near(move) {
    return ask("near", this.question(move));
  }
}

// A place that is too near: a ring, and the number of its line in the list, beside it where the sheet has room.
function ring(fault, number, width) {
  const side = fault.x + fault.r + 30 > width ? -1 : 1;
  const x = fault.x + side * (fault.r + 14);
  return svg("g", { class: "fault-ring" },
    svg("circle", { cx: fault.x, cy: fault.y, r: fault.r + 2, class: "case", "stroke-width": 5 }),
    svg("circle", { cx: fault.x, cy: fault.y, r: fault.r + 2, class: "line", "stroke-width": 2 }),
    svg("rect", { x: x - 9, y: fault.y - 10, width: 18, height: 20 }),
    svg("text", { x, y: fault.y + 5 }, String(number)));
}

// A measure from a piece to what is nearest; ringed where it is too short.
function measure(mark) {
  const d = `M ${mark.x1} ${mark.y1} L ${mark.x2} ${mark.y2}`;
  const x = (mark.x1 + mark.x2) / 2;
  const y = (mark.y1 + mark.y2) / 2;
  const lines = [svg("path", { d, class: "case", "stroke-width": 5 }), svg("path", { d, class: "line", "stroke-width": 2 })];
  if (!mark.is_clear) lines.push(svg("circle", { cx: x, cy: y, r: mark.r, class: "case", "stroke-width": 5 }), svg("circle", { cx: x, cy: y, r: mark.r, class: "line", "stroke-width": 2 }));
  return lines;
}

const HATCH = 12;

// What is left of the card is hatched by thin lines, as waste is on our pictures.
function hatching(width, height) {
  const lines = [];
  for (let sum = HATCH; sum < width + height; sum += HATCH) {
    lines.push(`M ${Math.max(0, sum - height)} ${Math.min(sum, height)} L ${Math.min(sum, width)} ${Math.max(0, sum - width)}`);
  }
  return lines.join(" ");
}
