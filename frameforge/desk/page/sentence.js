// The sentence of the chosen piece: its clauses with their blanks, and what more could be said.

import { blankAt, countOf, filled, isOfRings, unfilled } from "./address.js";
import { button, html } from "./build.js";
import { BARE, CARD_SAY, FACING, FIRST, FIRST_RINGS, FIRST_TEST, INNER, NEXT, NEXT_RING, PIECE_CLAUSES, RECIPE_CLAUSES, RINGS_CLAUSES, ROW_CLAUSES, TABLES } from "./clauses.js";
import { moreToSay } from "./more.js";

// The clauses of a row; the edge of rings is said with the row itself.
function rowClauses(isRings) {
  return ROW_CLAUSES.filter(({ isOfPieces }) => !isRings || !isOfPieces);
}

const rowPrefix = (row) => (row ? `row.${row}.` : "");

export class Sentence {
  /** `desk` is the page's own; `openBlank(address)` opens or closes a blank's choices. */
  constructor(desk, openBlank) {
    this.desk = desk;
    this.openBlank = openBlank;
    this.open = null;
    this.asked = new Set();
    this.isMoreOpen = false;
  }

  /** Ask for a clause that says nothing yet, and open its first blank. */
  ask(id, first) {
    this.asked.add(`${this.desk.at()} ${id}`);
    this.isMoreOpen = false;
    this.openBlank(first, true);
  }

  /** Return the nodes of the whole sentence. */
  nodes() {
    const isRings = isOfRings(this.desk.at());
    return [
      html("p", { class: "first" }, ...this.said(this.first(isRings))),
      ...this.rows(isRings),
      ...this.clauses(isRings ? RINGS_CLAUSES : PIECE_CLAUSES, ""),
      ...(isRings ? [] : TABLES.flatMap((table) => this.table(table))),
      ...this.cards(),
      ...this.clauses(RECIPE_CLAUSES, "", (clause) => (clause.table ? `${clause.table}.` : "")),
      ...moreToSay(this),
    ];
  }

  first(isRings) {
    const blanks = this.desk.blanks();
    if (isRings) return FIRST_RINGS;
    if (blanks.test_piece) return FIRST_TEST;
    if (blanks.from_opening) return INNER;
    const say = this.facing("motif" in blanks ? FIRST : BARE, "");
    return blanks.shape === "oval" ? say.replace(/\b(a) \{shape\}/i, "$1n {shape}") : say;
  }

  /** Return a clause in the words that suit the place of its motifs. */
  facing(say, prefix) {
    return say.replace("facing {place}", `${FACING[this.desk.blanks()[`${prefix}place`]] ?? "facing"} {place}`);
  }

  rows(isRings) {
    const blanks = this.desk.blanks();
    const isSaid = !isRings && !blanks.from_opening;
    return Array.from({ length: countOf("row", blanks) }, (_, row) => {
      const prefix = rowPrefix(row);
      const opening = row || !isSaid ? [html("p", { class: row ? "more row" : "more" }, ...this.said(this.facing(isRings ? NEXT_RING : NEXT, prefix), prefix), row ? this.away("Take this row away", `row.${row}`) : null)] : [];
      return [...opening, ...this.clauses(rowClauses(isRings), prefix)];
    }).flat();
  }

  /** Return the clauses in which something is said, and those that were asked for. */
  clauses(all, prefix, of = () => prefix) {
    return all.filter((clause) => this.isShown(clause, of(clause), `${prefix}${clause.key}`)).map((clause) => html("p", { class: "more" }, ...this.whole(clause, of(clause), `${prefix}${clause.key}`)));
  }

  table(table) {
    const count = countOf(table.key, this.desk.blanks());
    const isAsked = this.isAsked(`${table.key}.${count}`) && !table.start;
    return Array.from({ length: count + (isAsked ? 1 : 0) }, (_, number) => {
      const prefix = `${table.key}.${number}.`;
      const isThere = number < count;
      const clause = isThere ? variant(table, prefix, this.desk.blanks()) : { say: table.say.slice(0, table.say.indexOf("}") + 1) };
      return html("p", { class: "more" }, ...this.whole(clause, prefix, `${table.key}.${number}`), isThere ? this.away(table.away, `${table.key}.${number}`) : null);
    });
  }

  cards() {
    const blanks = this.desk.blanks();
    const used = Object.keys(blanks).filter((key) => key === "card" || /^layer\.\d+\.card$/.test(key)).map((key) => `card.${blanks[key]}`);
    return [...new Set(used)].filter((key) => key in blanks).map((key) => {
      const say = CARD_SAY.say.replace("{NAME}", blanks[key]);
      return html("p", { class: "more" }, ...this.whole({ ...CARD_SAY, say }, `${key}.`, key));
    });
  }

  isAsked(id) {
    return this.asked.has(`${this.desk.at()} ${id}`);
  }

  isShown(clause, prefix, id) {
    const blanks = this.desk.blanks();
    const isSaid = addresses([clause.say, clause.more ?? []].flat(2).join(" "), prefix, clause.names).some((address) => address in blanks);
    // What was said once stays in sight when it is taken back.
    if (isSaid) this.asked.add(`${this.desk.at()} ${id}`);
    return this.isAsked(id);
  }

  /** Return what a clause says, and the rest of it where something is said in it or it was asked for. */
  whole(clause, prefix, id) {
    const { names } = clause;
    const further = [clause.more ?? []].flat().map((say, at) => ({ say, names, id: `${id} more ${at}` }));
    const said = this.said(clause.say, prefix, names);
    for (const one of further) if (this.isShown(one, prefix, one.id)) said.push(" ", ...this.said(one.say, prefix, names));
    const next = further.find((one) => !this.isAsked(one.id));
    if (!next) return said;
    const first = addresses(next.say, prefix, names)[0];
    return [...said, " ", button("and more", () => this.ask(next.id, first), { class: "blank none", "data-more": id })];
  }

  /** Return words and blanks of a sentence: {key} is the blank at `prefix` and key. */
  said(say, prefix = "", names = {}) {
    return say.split(/\{(\w+)\}/).map((part, at) => (at % 2 ? this.blank(names[part] ?? `${prefix}${part}`) : part));
  }

  away(words, address) {
    return button(words, () => this.desk.restructure({}, [address]), { class: "away" });
  }

  blank(address, none = unfilled(address, this.desk.blanks(), this.desk.at())) {
    const value = filled(address, this.desk.blanks(), this.desk.at());
    const isOpen = this.open === address;
    return button(value ?? none, () => this.openBlank(isOpen ? null : address), {
      class: value === null ? "blank none" : "blank", "data-blank": address, "aria-expanded": String(isOpen),
      "aria-controls": "choices", "aria-label": `${blankAt(address, this.desk.at()).label}: ${value ?? none}`,
    });
  }
}

// A table that is said otherwise where one of its blanks has a certain value.
function variant(table, prefix, blanks) {
  const { other } = table;
  return other && blanks[`${prefix}${other.key}`] === other.value ? other : table;
}

function addresses(say, prefix, names = {}) {
  return [...say.matchAll(/\{(\w+)\}/g)].map(([, key]) => names[key] ?? `${prefix}${key}`);
}
