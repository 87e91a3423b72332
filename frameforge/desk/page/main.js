// The desk: one recipe, seen as a sentence, as a picture and as text. Each change is asked of the desk and then shown.

import { countOf } from "./address.js";
import { ask, handIn } from "./ask.js";
import "./beside.js";
import { button, byId, download, html } from "./build.js";
import { History } from "./history.js";
import { judged, unjudged } from "./judged.js";
import { Latest } from "./latest.js";
import { letGo } from "./press.js";
import { watched } from "./progress.js";
import { Saying } from "./saying.js";
import { besides, showTaking } from "./taking.js";
import { Views } from "./views.js";

const START = `[[piece]]
card = "moss"
size = "76mm"
opening = "50mm"

[[piece.row]]
motif = "bean-leaf"
count = 16
`;
const TYPING_MS = 400;
const RINGED = "Below it is ringed, on the piece as it would look.";

const history = new History(START);
let sentences = [];
let chosen = "piece.0";
let pieces = [];
let notes = [];
let pending = [];
let newest = 0;
let latest = Promise.resolve(null);
let moves = 0;
let gallery = { of: null, motifs: null };

const desk = {
  blanks: asked,
  sentences: () => sentences,
  at: () => sentence().at,
  title,
  choose,
  canChange: () => sentences.length > 0,
  skipped: () => (asked().skip ?? "").split(",").map((one) => one.trim()).filter(Boolean),
  isGapStated: (row = "") => asked()[`${row}gap`] !== undefined,
  madeRow: (row) => pieces.find((piece) => piece.of === desk.at())?.rows[row],
  inTurn: (row) => Math.max(1, Object.keys(asked()).filter((key) => key.startsWith(`${row}motif.`) && key.split(".").length === row.split(".").length + 1).length),
  measured,
  timesOf: (address) => sentence().slides?.[address]?.times,
  unitOf: (address) => sentence().slides?.[address]?.unit ?? sentence().unit ?? "mm",
  change,
  restructure,
  addPiece: (options) => add("piece", options),
  addRings: (options) => add("rings", options),
  say: () => saying.show(),
  message,
  close: () => saying.openBlank(null),
  motifs,
  drawings: () => Object.keys(asked()).filter((key) => key.startsWith("drawing.")).map((key) => key.slice("drawing.".length)),
  drawing,
  font,
  ask: (kind, question) => watched(ask(kind, question)),
  recipe: () => history.now,
  pieces: () => pieces,
  notes: () => notes,
  width: () => Math.max(byId("bench").clientWidth, 280),
  refuse,
  replace: (recipe) => see(recipe, {}, true),
  adopt,
  refresh: () => views.refresh(),
};
const asking = new Latest((question) => ask("see", { ...question, width: desk.width() }));
const saying = new Saying(desk);
const views = new Views(byId("views"), byId("shown"), desk);

// Changes that were made while another was being worked at go along with it.
function merged() {
  const options = {};
  const leaveOut = new Set();
  for (const change_ of pending) {
    for (const key of change_.leaveOut) {
      leaveOut.add(key);
      delete options[key];
    }
    Object.assign(options, change_.options);
  }
  return { options, leave_out: [...leaveOut] };
}

// The sentence of the chosen piece: the first one where that is no longer there.
function sentence() {
  return sentences.find(({ at }) => at === chosen) ?? sentences[0] ?? { at: "piece.0", name: "", blanks: {} };
}

// What a piece is called: by its name, by what came of it, or by its number.
function title(at = sentence().at) {
  const one = sentences.find((other) => other.at === at);
  const made = pieces.find((piece) => piece.of === at)?.name;
  return one?.name || made || `${at.startsWith("rings") ? "rings" : "piece"} ${Number(at.split(".")[1]) + 1}`;
}

// What stands in the blanks once the changes that are being worked at are through.
function asked() {
  const { options, leave_out } = merged();
  const now = { ...sentence().blanks };
  for (const key of leave_out) delete now[key];
  for (const [key, value] of Object.entries(options)) now[key] = value === true ? "yes" : String(value);
  return now;
}

// A quantity as a slider shows it: as it was typed, else as it came out; null where it has no number.
function measured(address, row) {
  const typed = sentence().slides?.[address];
  if (typed || asked()[address] === "find") return typed?.now ?? null;
  return pieces.find((piece) => piece.of === desk.at())?.settled?.[row]?.[{ gap: "gap_mm", scale: "scale" }[address.split(".").at(-1)]] ?? null;
}

/** Change the recipe. Resolves to what is said against it, null for nothing; what was typed is answered at its blank. */
function change(options, leaveOut, how = {}) {
  pending.push({ options, leaveOut });
  latest = see(history.now, merged(), true, how);
  return latest;
}

// What adds or takes away moves the places of others: it waits until all before it is through.
async function restructure(options, leaveOut) {
  while (pending.length) await latest;
  return change(options, leaveOut);
}

async function add(kind, options) {
  while (pending.length) await latest;
  const at = `${kind}.${sentences.filter((one) => one.at.startsWith(`${kind}.`)).length}`;
  const refused = await change(Object.fromEntries(Object.entries(options).map(([key, value]) => [`${at}.${key}`, value])), []);
  if (refused === null) await choose(at);
}

async function choose(at) {
  while (pending.length) await latest;
  if (!sentences.some((one) => one.at === at)) return;
  saying.openBlank(null);
  chosen = at;
  saying.show();
  views.refresh();
}

async function see(recipe, change_, isKept, how = {}) {
  const mine = (newest += 1);
  const before = moves;
  byId("bench").setAttribute("aria-busy", "true");
  const answer = await watched(asking.ask({ recipe, at: sentence().at, ...change_ }), () => mine === newest);
  await letGo();
  if (mine === newest) byId("bench").removeAttribute("aria-busy");
  if (answer.replaced) return null;
  if (answer.is_changed && isKept && before === moves) keep(answer.recipe, how.slide);
  if (mine !== newest) {
    if (answer.pieces) showPieces(answer);
    return null;
  }
  if (answer.stopped) {
    pending = [];
    refuse(answer.refused);
    saying.show();
    return null;
  }
  if (answer.is_changed === false && pending.length > 1) {
    pending.pop();
    if (!how.isTyped) refuse(answer.refused);
    await (latest = see(history.now, merged(), isKept));
    return answer.refused;
  }
  pending = [];
  if (answer.is_changed === false && how.isTyped) saying.show();
  else showAnswer(answer, recipe);
  return answer.is_changed === false ? answer.refused : null;
}

function keep(recipe, slide) {
  history.add(recipe, slide);
}

/** Keep a recipe whose pieces are those that are shown: only where they lie has changed. */
function adopt(recipe) {
  keep(recipe);
  if (document.activeElement !== byId("recipe-text")) byId("recipe-text").value = recipe;
  byId("undo").disabled = !history.canUndo;
  byId("redo").disabled = !history.canRedo;
  byId("taken").textContent = "";
}

function showAnswer(answer, recipe) {
  refuse(answer.refused ?? [], answer.fallen?.length ? RINGED : undefined);
  if (answer.sentences !== undefined) sentences = answer.sentences;
  if (answer.writes) showTaking(answer.writes, change);
  if (answer.pieces) showPieces(answer);
  else if (answer.fallen?.length) showFallen(answer.fallen);
  const isMade = Boolean(answer.pieces);
  byId("shown").classList.toggle("before", !isMade && !answer.fallen?.length && pieces.length > 0);
  canTake(isMade || answer.is_changed === false);
  const text = byId("recipe-text");
  if (document.activeElement !== text || answer.recipe !== recipe) text.value = answer.recipe ?? history.now;
  byId("taken").textContent = "";
  byId("undo").disabled = !history.canUndo;
  byId("redo").disabled = !history.canRedo;
  if (sentences.length) saying.show();
  saying.tidy();
}

// What would fall apart is shown with its loose parts ringed, and is not made.
function showFallen(fallen) {
  pieces = judged(fallen, []).map((piece) => ({ ...piece, isFallen: true }));
  notes = [];
  views.refresh();
}

function canTake(can) {
  byId("take").disabled = byId("put").disabled = !can;
}

// A newer change may be under way: its picture comes next, and what is found in this one is not asked any more.
async function showPieces(answer) {
  pieces = answer.is_judged ? judged(answer.pieces, []) : unjudged(answer.pieces, pieces);
  notes = answer.notes ?? [];
  views.refresh();
  if (answer.is_judged || asking.isBehind) return;
  const shown = pieces;
  const found = await watched(ask("findings", { recipe: answer.recipe, width: answer.pieces[0].width }), () => pieces === shown);
  await letGo();
  if (pieces !== shown || found.replaced || found.stopped) return;
  if (found.pieces) {
    pieces = judged(pieces, found.pieces);
    views.judge();
    return;
  }
  if (found.marked) {
    pieces = judged(pieces, found.marked);
    views.judge();
  }
  refuse(found.refused ?? [], found.marked ? RINGED : "This is what it would look like.");
  canTake(false);
}

/** Return the lines of a message, the offers in them as buttons. */
function message(lines) {
  return lines.map((parts) => html("p", {}, ...parts.map((part) => (part.options ? button(part.words, () => change(part.options, [])) : part.words))));
}

function refuse(lines, below = "Below stands the piece as it was before.") {
  const made = message(lines);
  if (made.length && pieces.length) made.push(html("p", { class: "hint" }, below));
  byId("refused").replaceChildren(...made);
}

// All motifs that can be named: ours, those of the maker's folder, and the drawings that this recipe keeps.
async function motifs() {
  const of = desk.drawings().join("\n");
  if (gallery.of !== of) gallery = { of, motifs: ask("motifs", { recipe: history.now }) };
  return (await gallery.motifs).motifs ?? [];
}

// A drawing becomes the motif of the blank that is open, else of the first row.
async function drawing(file, isChosen = true) {
  while (pending.length) await latest;
  const answer = await watched(handIn("drawing", file, history.now));
  if (answer.refused) {
    refuse(answer.refused);
    return false;
  }
  const place = saying.open && /(^|\.)(motif|filler)$/.test(saying.open) ? saying.open : "motif";
  const isNeeded = isChosen || !countOf("row", asked());
  await see(answer.recipe, { options: isNeeded ? { [place]: place.endsWith("filler") ? answer.motif : [answer.motif] } : {}, leave_out: [] }, true);
  return true;
}

// A font becomes that of the words whose blank is open, else of the first words there are.
async function font(file) {
  while (pending.length) await latest;
  const answer = await watched(handIn("font", file));
  if (answer.refused) {
    refuse(answer.refused);
    return;
  }
  const place = saying.open?.endsWith(".font") ? saying.open : "text.0.font";
  if (countOf("text", asked())) await change({ [place]: answer.font }, []);
  byId("taken").textContent = `${answer.words} lies in your folder as ${answer.font}.`;
  document.querySelector(".fonts")?.again();
}

async function take(kind) {
  const answer = await watched(ask(kind, { recipe: history.now, ...besides() }));
  if (answer.file) {
    download(answer.file, answer.name);
    byId("taken").textContent = `${answer.name} is on its way to your downloads.`;
  } else if (answer.said) {
    byId("taken").textContent = answer.said.join(" ");
  } else if (answer.stopped) {
    byId("taken").textContent = "Stopped. Nothing was written.";
  } else {
    refuse(answer.refused ?? []);
  }
}

async function openFile(file) {
  const answer = await handIn("open", file);
  if (answer.refused) refuse(answer.refused);
  else await see(answer.recipe, {}, true);
}

function move(steps) {
  pending = [];
  moves += 1;
  see(history.move(steps), {}, false);
}

let typing = 0;
byId("recipe-text").addEventListener("input", (event) => {
  clearTimeout(typing);
  typing = setTimeout(() => see(event.target.value, {}, true), TYPING_MS);
});
byId("undo").addEventListener("click", () => move(-1));
byId("redo").addEventListener("click", () => move(1));
byId("take").addEventListener("click", () => take("take"));
byId("put").addEventListener("click", () => take("put"));
byId("save").addEventListener("click", () => download(new Blob([history.now], { type: "application/toml" }), `${sentences.length === 1 ? title() : "recipe"}.toml`));
byId("open").addEventListener("change", (event) => {
  if (event.target.files.length) openFile(event.target.files[0]);
  event.target.value = "";
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && saying.open !== null) saying.openBlank(null);
  const isTyping = event.target.matches?.("input, textarea");
  if (!isTyping && (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z") {
    event.preventDefault();
    move(event.shiftKey ? 1 : -1);
  }
});
const isFont = (name) => /\.(ttf|otf)$/i.test(name);
document.addEventListener("dragover", (event) => {
  event.preventDefault();
  document.body.classList.add("dropping");
});
document.addEventListener("dragleave", () => document.body.classList.remove("dropping"));
document.addEventListener("drop", async (event) => {
  event.preventDefault();
  document.body.classList.remove("dropping");
  const files = [...event.dataTransfer.files];
  const recipe = files.find((file) => /\.(toml|dxf)$/i.test(file.name));
  if (recipe) await openFile(recipe);
  for (const one of files.filter((file) => isFont(file.name))) await font(one);
  const drawings = files.filter((file) => !isFont(file.name) && !/\.(toml|dxf)$/i.test(file.name));
  for (const [at, file] of drawings.entries()) await drawing(file, at === 0);
  if (saying.open?.endsWith("motif")) saying.openBlank(saying.open);
});

see(history.now, {}, false);
