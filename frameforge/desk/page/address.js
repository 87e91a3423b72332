// Where a blank stands in the recipe, and its words: "count" of the first row, "row.1.count", "text.0.words".

import { CARD, FILES, FOLD, HOLE, LAYER, LID, RECIPE, SHEETS, STAND, TEXT } from "./more_words.js";
import { ENTRY, PIECE, RINGS, RING_ROW, ROW, shown } from "./words.js";

const OF_PIECE = { hole: HOLE, text: TEXT, layer: LAYER, fold: FOLD, lid: LID, stand: STAND };
const OF_RECIPE = { files: FILES, sheets: SHEETS };

/** The row of an address as it stands before its keys: "" for the first, "row.1." for the second. */
export function rowOf(address) {
  return /^row\.\d+\./.exec(address)?.[0] ?? "";
}

export function rowNumber(row) {
  return row ? Number(row.split(".")[1]) : 0;
}

export function isOfRings(at) {
  return at.startsWith("rings");
}

/** Return the words of the blank at an address of a sentence; `at` is its table ("piece.1"). */
export function blankAt(address, at) {
  const row = rowOf(address);
  const parts = address.slice(row.length).split(".");
  const key = parts.at(-1);
  const ofRow = isOfRings(at) ? RING_ROW : ROW;
  if (row || parts[0] === "motif") return parts.length === 3 ? ENTRY[key] : ofRow[parts[0]];
  if (parts[0] in OF_RECIPE) return OF_RECIPE[parts[0]][key];
  if (parts[0] in OF_PIECE) return OF_PIECE[parts[0]][key];
  if (parts[0] === "card" && parts.length > 2) return CARD[key];
  if (parts[0] === "units") return RECIPE.units;
  return (isOfRings(at) ? RINGS[key] : PIECE[key]) ?? ofRow[key];
}

/** Return an address as it is found in the recipe: "row 2: gap". */
export function inRecipe(address, blank) {
  const row = rowOf(address);
  const parts = address.slice(row.length).split(".");
  const key = parts[0] === "motif" ? ["motif", ...parts.slice(2)].join(", ") : (blank.key ?? parts.at(-1));
  if (row) return `row ${rowNumber(row) + 1}: ${key}`;
  if (parts[0] in OF_PIECE) return `${parts[0]} ${Number(parts[1]) + 1}: ${key}`;
  if (parts[0] in OF_RECIPE) return `${parts[0]}: ${key}`;
  if (parts[0] === "card" && parts.length > 2) return `card ${parts.slice(1, -1).join(".")}: ${key}`;
  return key;
}

/** What stands in a blank; null in one without a value. */
export function filled(address, blanks, at) {
  if (address === "middle") {
    if (blanks.opening) return `${article(blanks.opening)} ${shown(blanks.opening)} hole in the middle`;
    return blanks.rim ? `a rim of ${shown(blanks.rim)}` : null;
  }
  const value = blanks[address];
  if (value === undefined) return null;
  const blank = blankAt(address, at);
  if (/^(row\.\d+\.)?motif$/.test(address)) return turns(value);
  return blank.names?.[value] ?? (blank.show ?? shown)(value);
}

// A number is read aloud: an 80 mm hole, an 11 mm hole, a 110 mm hole.
function article(number) {
  return /^(8|11(?!\d)|18(?!\d))/.test(number) ? "an" : "a";
}

function turns(names) {
  const all = names.split(", ").map(shown);
  return all.length > 1 ? `${all.slice(0, -1).join(", ")} and ${all.at(-1)} in turn` : all[0];
}

/** What stands in a blank without a value. */
export function unfilled(address, blanks, at) {
  const { none } = blankAt(address, at);
  return typeof none === "function" ? none(blanks, rowOf(address)) : none;
}

/** How many tables of one kind a sentence has: rows, holes, texts. */
export function countOf(table, blanks) {
  const numbers = Object.keys(blanks).map((key) => key.split(".")).filter((parts) => parts[0] === table && parts.length > 2).map((parts) => Number(parts[1]) + 1);
  const first = table === "row" && "motif" in blanks ? 1 : 0;
  return Math.max(first, ...numbers, 0);
}
