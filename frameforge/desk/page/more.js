// What more could be said: clauses that say nothing yet, further rows, holes, words, cards, pieces.

import { countOf, isOfRings } from "./address.js";
import { button, html } from "./build.js";
import { PIECE_CLAUSES, RECIPE_CLAUSES, RINGS_CLAUSES, ROW_CLAUSES, TABLES } from "./clauses.js";

/** Return the button that opens it, and all that is offered where it is open. */
export function moreToSay(sentence) {
  const toggle = button("More to say", () => {
    sentence.isMoreOpen = !sentence.isMoreOpen;
    sentence.desk.say();
  }, { id: "more", "aria-expanded": String(sentence.isMoreOpen), "aria-controls": "offers" });
  const offers = html("div", { id: "offers", hidden: !sentence.isMoreOpen }, ...(sentence.isMoreOpen ? groups(sentence) : []));
  return [html("div", { class: "tools" }, toggle), offers];
}

function groups(sentence) {
  const { desk } = sentence;
  const isRings = isOfRings(desk.at());
  const rows = countOf("row", desk.blanks());
  const found = Array.from({ length: rows }, (_, row) => [rows > 1 ? `Of row ${row + 1}` : "Of the motifs", clauses(sentence, ROW_CLAUSES.filter(({ isOfPieces }) => !isRings || !isOfPieces), row ? `row.${row}.` : "")]);
  found.push([isRings ? "Of the rings" : "Of the piece", [...clauses(sentence, isRings ? RINGS_CLAUSES : PIECE_CLAUSES, ""), anotherRow(sentence, rows), ...(isRings ? [] : tables(sentence))]]);
  found.push(["Of all of it", [...clauses(sentence, RECIPE_CLAUSES, "", (clause) => (clause.table ? `${clause.table}.` : "")), ofCard(sentence), ...pieces(sentence)]]);
  return found.filter(([, made]) => made.some(Boolean)).map(([heading, made]) => html("div", { role: "group", "aria-label": heading }, html("h2", {}, heading), html("div", { class: "picks" }, ...made)));
}

function clauses(sentence, all, prefix, of = () => prefix) {
  return all.filter((clause) => !sentence.isAsked(`${prefix}${clause.key}`)).map((clause) => {
    const key = /\{(\w+)\}/.exec(clause.say)[1];
    return button(clause.words, () => sentence.ask(`${prefix}${clause.key}`, clause.names?.[key] ?? `${of(clause)}${key}`));
  });
}

function anotherRow(sentence, rows) {
  const { desk } = sentence;
  if (!rows) return button("motifs round it", () => begin(sentence, { motif: ["bean-leaf"] }, "motif"));
  const blanks = desk.blanks();
  const isFree = !Object.entries(blanks).some(([key, value]) => /(^|\.)place$/.test(key) && value === "in");
  const place = (blanks.opening || blanks.rim) && isFree ? "in" : "window";
  const options = { [`row.${rows}.motif`]: ["seed-husk"], ...(isOfRings(desk.at()) ? {} : { [`row.${rows}.place`]: place }) };
  return button("another row", () => begin(sentence, options, `row.${rows}.motif`));
}

function tables(sentence) {
  const { desk } = sentence;
  return TABLES.map((table) => {
    const count = countOf(table.key, desk.blanks());
    if (table.isOnce && count) return null;
    const prefix = `${table.key}.${count}.`;
    if (!table.start) return button(table.words, () => sentence.ask(`${table.key}.${count}`, `${prefix}${table.first}`));
    const start = table.key === "layer" ? { ...table.start, card: otherCard(desk.blanks()) } : table.start;
    const options = Object.fromEntries(Object.entries(start).map(([key, value]) => [`${prefix}${key}`, value]));
    return button(table.words, () => begin(sentence, options, `${prefix}${table.first}`));
  });
}

// A card below another is of another colour, as far as there are some.
function otherCard(blanks) {
  const used = Object.keys(blanks).filter((key) => /(^|\.)card$/.test(key)).map((key) => blanks[key]);
  return ["cream", "sand", "brick", "moss"].find((card) => !used.includes(card)) ?? "cream";
}

function ofCard(sentence) {
  const { desk } = sentence;
  const name = desk.blanks().card;
  if (!name || `card.${name}` in desk.blanks()) return null;
  return button(`all ${name} card`, () => begin(sentence, { [`card.${name}.preset`]: "card-240-knife" }, `card.${name}.preset`));
}

function pieces(sentence) {
  const { desk } = sentence;
  const closing = (act) => () => {
    sentence.isMoreOpen = false;
    act();
  };
  const made = [
    button("another piece", closing(() => desk.addPiece(copied(desk.blanks())))),
    button("rings from one sheet", closing(() => desk.addRings({ sizes: "60-140 by 20" }))),
    button("a test piece", closing(() => desk.addPiece({ test_piece: true }))),
  ];
  if (desk.sentences().length > 1) made.push(button("take this piece away", closing(() => desk.restructure({}, [desk.at()]))));
  return made;
}

/** Return another piece like this one: all that is said of it but its name. */
function copied(blanks) {
  const isOwn = (key) => key !== "name" && key !== "shape" && !/^(files|sheets|units|drawing|card\.|this\.)/.test(key);
  const isList = (key) => /(^|\.)motif$/.test(key) && `${key}.0` in blanks;
  const own = Object.entries(blanks).filter(([key]) => isOwn(key) && !isList(key));
  if (!own.length || blanks.sizes) return { size: "76mm" };
  return Object.fromEntries(own.map(([key, value]) => [key, /(^|\.)(keep_counters|flip)$/.test(key) ? true : value]));
}

async function begin(sentence, options, first) {
  sentence.isMoreOpen = false;
  await sentence.desk.restructure(options, []);
  if (first in sentence.desk.blanks()) sentence.openBlank(first, true);
}
