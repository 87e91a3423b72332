// The sentence: its words, its blanks, and what each blank offers. Keys are those of the recipe.

/** A value as it is shown: "76mm" reads "76 mm". */
export function shown(value) {
  return value.replace(/(\d)(mm|cm|in)\b/g, "$1 $2").replace(/(\d)x(\d)/g, "$1 x $2").replace(/-/g, (sign, at) => (at ? " " : sign));
}

const PLAIN = (value) => value;

/** Blanks: `none` stands in one without a value; `picks` are [value, words]; a value of null leaves the key out. */
export const BLANKS = {
  count: {
    label: "How many", none: "as many as fit", kind: "count", picks: [["most", "as many as fit"]],
    hint: "A whole number.", names: { most: "as many as fit" },
  },
  motif: { label: "Motif", none: "no motif", kind: "motif" },
  shape: { label: "Base", none: "base", kind: "pick", picks: [["circle", "circle"], ["oval", "oval"]] , key: "size" },
  size: {
    label: "Size of the base", none: "a size to be found", kind: "text",
    hint: "100mm, 4in or 3 1/4 in for a circle; 150x100mm for an oval.",
  },
  place: {
    label: "Where the motifs go", none: "out", kind: "pick",
    picks: [["out", "out, outside the edge"], ["in", "in, into the opening"], ["window", "window, cut through the card"], ["across", "across, half and half"]],
  },
  middle: { label: "The middle", none: "no hole in the middle", kind: "middle", key: "opening, rim" },
  gap: {
    label: "Gap between two motifs", none: (blanks) => (/^\d+$/.test(blanks.count ?? "") ? "what the count gives" : "2 mm or more"), kind: "text", hint: "2mm. With a count it may be left to it.",
    drop: "leave it to the count",
  },
  scale: { label: "Scale of the motif", none: "full", kind: "text", hint: "0.7 is smaller, 1.2 larger; find works it out.", picks: [["find", "find it"]], drop: "full" },
  seat: { label: "How the motif sits", none: "as drawn", kind: "pick", picks: [["as-drawn", "as drawn, its foot sunk into the curve"], ["bent", "bent, to follow the edge"]] },
  between: {
    label: "The edge between two motifs", none: "kept", kind: "pick",
    picks: [["keep", "kept"], ["flat", "flat, straight from foot to foot"], ["hollow", "hollow"], ["raised", "raised"], ["level", "level"]],
    names: { keep: "kept" },
  },
  mirror: { label: "Turned over", none: "all alike", kind: "pick", picks: [[null, "all alike"], ["every-other", "every other one turned over"]], names: { "every-other": "every other one turned over" } },
  skip: { label: "Positions left out", none: "none", kind: "text", hint: "Counted from 1 at the top, clockwise: 1,4 or top.", drop: "none", many: true },
  card: { label: "Colour of card", none: "any", kind: "text", hint: "Any name: moss, sand, brick, cream are drawn in their colours.", picks: [["moss", "moss"], ["sand", "sand"], ["brick", "brick"], ["cream", "cream"]], drop: "any", show: PLAIN },
  preset: { label: "Card and machine", none: "card-240-knife", kind: "text", hint: "The name of a preset.", picks: [["card-240-knife", "card 240, knife"], ["card-240-laser", "card 240, laser"]], show: PLAIN },
  goes_in: { label: "What it must go in", none: "anything", kind: "text", hint: "C6, US A7, 114x162mm, or 76mm for a tin. 3 mm stay free each side.", drop: "anything", show: PLAIN },
  hole: { label: "A round hole", none: "no hole to hang it by", kind: "text", hint: "Its size and its place: 4mm top.", drop: "no hole", many: true },
  text: { label: "Words on it", none: "no words", kind: "text", hint: "Words along the rim, such as Seed swap.", drop: "no words", show: PLAIN },
  layers: { label: "Cards below", none: "no cards below", kind: "text", hint: "Colour and border of each: cream 5mm, brick 5mm.", drop: "no cards below", show: PLAIN },
  mend: { label: "What is mended", none: "nothing", kind: "pick", picks: [[null, "nothing"], ["all", "all that can be"]], names: { all: "all that can be" } },
  hand_out: { label: "A hand-out to print", none: "no hand-out", kind: "pick", picks: [[null, "no hand-out"], [true, "a hand-out, a page a project"]], names: { yes: "a hand-out to print" } },
  as_cut: { label: "A picture of the card as cut", none: "no picture as cut", kind: "pick", picks: [[null, "no picture as cut"], [true, "a picture as cut, every bit to pick out numbered"]], names: { yes: "a picture as cut" } },
  name: { label: "Name of the piece and its files", none: "", kind: "text", hint: "Left out, it is named by motif, count and size.", drop: "leave it out", show: PLAIN },
};

export const FIRST = ["Put", "count", "of", "motif", "round a", "shape", "of", "size", "facing", "place", "with", "middle", "."];

export const MORE = [
  ["Leave", "gap", "between them, at", "scale", "scale,", "seat", ",", "mirror", "; the edge between is", "between", "; positions left out:", "skip", "."],
  ["Cut it from", "card", "card by the limits of", "preset", "; it must go in", "goes_in", ". Mend", "mend", "."],
  ["Add", "text", ",", "hole", ",", "layers", "."],
  ["Beside the files to cut, write", "hand_out", "and", "as_cut", "."],
];

/** What stands in a blank without a value. */
export function unfilled(key, blanks) {
  const { none } = BLANKS[key];
  return typeof none === "function" ? none(blanks) : none;
}

/** What stands in a blank; null in one without a value. */
export function filled(key, blanks) {
  if (key === "middle") {
    if (blanks.opening) return `a ${shown(blanks.opening)} hole in the middle`;
    return blanks.rim ? `a rim of ${shown(blanks.rim)}` : null;
  }
  const value = blanks[key];
  if (value === undefined) return null;
  const blank = BLANKS[key];
  return blank.names?.[value] ?? (blank.show ?? shown)(value);
}
