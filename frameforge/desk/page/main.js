// The desk: one recipe, seen as a sentence, as a picture and as text. Each change is asked of the desk and then shown.

import { ask, handIn } from "./ask.js";
import { button, byId, download, html } from "./build.js";
import { panel } from "./choices.js";
import { History } from "./history.js";
import { watched } from "./progress.js";
import { Views } from "./views.js";
import { BLANKS, FIRST, MORE, filled, unfilled } from "./words.js";

const START = `[[piece]]
card = "moss"
size = "76mm"
opening = "50mm"

[[piece.row]]
motif = "bean-leaf"
count = 16
`;
const KEPT = "frameforge-recipe";
const TYPING_MS = 400;

const history = new History(sessionStorage.getItem(KEPT) ?? START);
let blanks = {};
let pieces = [];
let notes = [];
let open = null;
let pending = [];
let newest = 0;
let moves = 0;
let gallery = null;
const own = [];

const desk = {
  blanks: asked,
  canChange: () => blanks !== null,
  skipped: () => (asked().skip ?? "").split(",").map((one) => one.trim()).filter(Boolean),
  isGapStated: () => asked().gap !== undefined,
  madeCount: () => pieces[0]?.rows[0]?.count ?? 1,
  change,
  close: () => openBlank(null),
  motifs: async () => [...((await (gallery ??= ask("motifs", {}))).motifs ?? []), ...own],
  drawing,
  ask: (kind, question) => watched(ask(kind, question)),
  recipe: () => history.now,
  pieces: () => pieces,
  notes: () => notes,
  width: () => Math.max(byId("bench").clientWidth, 280),
  refuse,
  message,
  replace: (recipe) => see(recipe, {}, true),
  refresh: () => views.refresh(),
};
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

// What stands in the blanks once the changes that are being worked at are through.
function asked() {
  const { options, leave_out } = merged();
  const now = { ...blanks };
  for (const key of leave_out) delete now[key];
  for (const [key, value] of Object.entries(options)) now[key] = value === true ? "yes" : String(value);
  return now;
}

async function change(options, leaveOut) {
  pending.push({ options, leaveOut });
  await see(history.now, merged(), true);
}

async function see(recipe, change_, isKept) {
  const mine = (newest += 1);
  const before = moves;
  const answer = await watched(ask("see", { recipe, width: desk.width(), ...change_ }), () => mine === newest);
  if (answer.replaced) return;
  if (answer.is_changed && isKept && before === moves) keep(answer.recipe);
  if (mine !== newest) return;
  if (answer.is_changed === false && pending.length > 1) {
    pending.pop();
    refuse(answer.refused);
    await see(history.now, merged(), isKept);
    return;
  }
  pending = [];
  showAnswer(answer, recipe);
}

function keep(recipe) {
  history.add(recipe);
  sessionStorage.setItem(KEPT, recipe);
}

function showAnswer(answer, recipe) {
  refuse(answer.refused ?? []);
  if (answer.blanks !== undefined) blanks = answer.blanks;
  if (answer.pieces) {
    pieces = answer.pieces;
    notes = answer.notes ?? [];
    views.refresh();
  }
  const isMade = Boolean(answer.pieces);
  byId("shown").classList.toggle("before", !isMade && pieces.length > 0);
  byId("take").disabled = byId("put").disabled = byId("guide").disabled = !isMade && answer.is_changed !== false;
  const text = byId("recipe-text");
  if (document.activeElement !== text || answer.recipe !== recipe) text.value = answer.recipe ?? history.now;
  byId("taken").textContent = "";
  showSentence();
}

/** Return the lines of a message, the offers in them as buttons. */
function message(lines) {
  return lines.map((parts) => html("p", {}, ...parts.map((part) => (part.options ? button(part.words, () => change(part.options, [])) : part.words))));
}

function refuse(lines) {
  const made = message(lines);
  if (made.length && pieces.length) made.push(html("p", { class: "hint" }, "Below stands the piece as it was before."));
  byId("refused").replaceChildren(...made);
}

function showSentence() {
  const focused = document.activeElement?.dataset?.blank;
  byId("undo").disabled = !history.canUndo;
  byId("redo").disabled = !history.canRedo;
  const title = blanks === null && pieces.length !== 1 ? `${pieces.length} pieces` : (pieces[0]?.name ?? "");
  if (blanks === null) {
    const words = "This recipe says more than one sentence can. Change it in the recipe itself.";
    byId("name").replaceChildren(title);
    byId("sentence").replaceChildren(html("p", {}, words));
    openBlank(null);
    return;
  }
  byId("name").replaceChildren(blankButton("name", title));
  byId("sentence").replaceChildren(html("p", { class: "first" }, ...words(FIRST)), ...MORE.map((line) => html("p", { class: "more" }, ...words(line))));
  for (const made of byId("choices").querySelectorAll("button")) made.refresh?.();
  if (focused) document.querySelector(`[data-blank="${focused}"]`)?.focus();
}

function words(line) {
  return line.flatMap((part, at) => {
    const isMark = /^[.,;]/.test(part);
    return [at && !isMark ? " " : "", part in BLANKS && !isMark ? blankButton(part) : part];
  });
}

function blankButton(key, none = unfilled(key, blanks)) {
  const value = filled(key, blanks);
  const isOpen = open === key;
  return button(value ?? none, () => openBlank(isOpen ? null : key), {
    class: value === null ? "blank none" : "blank", "data-blank": key,
    "aria-expanded": String(isOpen), "aria-controls": "choices", "aria-label": `${BLANKS[key].label}: ${value ?? none}`,
  });
}

function openBlank(key) {
  const before = open;
  open = key;
  const choices = byId("choices");
  choices.hidden = key === null;
  choices.replaceChildren(...(key === null ? [] : [panel(key, desk)]));
  for (const made of document.querySelectorAll("[data-blank]")) made.setAttribute("aria-expanded", String(made.dataset.blank === key));
  if (key !== null) choices.querySelector("input:not([type=file]), button")?.focus();
  else if (before !== null) document.querySelector(`[data-blank="${before}"]`)?.focus();
  if (blanks !== null && before !== key) rewire();
}

// The buttons of the sentence say whether they are open; their next click must know it.
function rewire() {
  const focused = document.activeElement;
  showSentence();
  if (focused?.isConnected) focused.focus();
}

async function drawing(file) {
  const answer = await watched(handIn("drawing", file, history.now));
  if (answer.refused) {
    refuse(answer.refused);
  } else {
    if (!own.some((motif) => motif.name === answer.motif)) own.push(answer.shown);
    await see(answer.recipe, { options: { motif: [answer.motif] }, leave_out: [] }, true);
  }
  return desk.motifs();
}

async function take(kind) {
  const answer = await watched(ask(kind, { recipe: history.now }));
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
  const recipe = history.move(steps);
  sessionStorage.setItem(KEPT, recipe);
  see(recipe, {}, false);
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
byId("guide").addEventListener("click", () => take("guide"));
byId("save").addEventListener("click", () => download(new Blob([history.now], { type: "application/toml" }), `${blanks === null ? "recipe" : (pieces[0]?.name ?? "recipe")}.toml`));
byId("open").addEventListener("change", (event) => {
  if (event.target.files.length) openFile(event.target.files[0]);
  event.target.value = "";
});
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && open !== null) openBlank(null);
  const isTyping = event.target.matches?.("input, textarea");
  if (!isTyping && (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z") {
    event.preventDefault();
    move(event.shiftKey ? 1 : -1);
  }
});
document.addEventListener("dragover", (event) => {
  event.preventDefault();
  document.body.classList.add("dropping");
});
document.addEventListener("dragleave", () => document.body.classList.remove("dropping"));
document.addEventListener("drop", async (event) => {
  event.preventDefault();
  document.body.classList.remove("dropping");
  const file = event.dataTransfer.files[0];
  if (file) await (/\.(toml|dxf)$/i.test(file.name) ? openFile(file) : drawing(file));
  if (open === "motif") openBlank("motif");
});

see(history.now, {}, false);
