// The blanks of what a piece may have besides, and of what holds for the whole recipe. Keys are those of the recipe.

import { ALLOWANCE, PLAIN, SIDES } from "./words.js";

const LENGTH = "3mm, 0.1in or 1/8 in.";
const AT = { label: "Where", none: "top", kind: "text", hint: "Degrees clockwise from the top: 30deg.", picks: SIDES, drop: "top" };
const CREASE = {
  crease: { label: "How the crease is drawn", none: "full", kind: "pick", picks: [["full", "full"], ["dashed", "dashed"]] },
  dash: { label: "How long its dashes are", none: "as the card has it", kind: "text", hint: LENGTH, drop: "as the card has it" },
  dash_space: { label: "How much card stays between two dashes", none: "as the card has it", kind: "text", hint: LENGTH, drop: "as the card has it" },
  stop: { label: "How far the crease stops short of the edge", none: "0 mm", kind: "text", hint: LENGTH, drop: "0 mm" },
};

export const HOLE = {
  size: { label: "How wide the hole is", none: "no size", kind: "text", hint: "4mm." },
  at: AT,
};

export const TEXT = {
  words: { label: "Words on the piece", none: "no words yet", kind: "text", hint: "Such as Seed swap.", show: PLAIN },
  along: { label: "Where the words go", none: "rim", kind: "pick", picks: [["rim", "rim"], ["middle", "middle"]] },
  as: { label: "How the words are made", none: "mark", kind: "pick", picks: [["mark", "mark, lines"], ["window", "window, cut through with ties"], ["join", "join, letters that stand on the edge"]] },
  reads: { label: "From which side they are read", none: "outside", kind: "pick", picks: [["outside", "outside"], ["inside", "inside"]] },
  size: { label: "How high capitals are", none: "6 mm", kind: "text", hint: "9mm.", drop: "6 mm" },
  at: { ...AT, label: "Where their middle lies" },
  limit: { label: "How much of a round edge they take at most", none: "240 deg", kind: "text", hint: "240deg.", drop: "leave it out" },
  font: { label: "Font of the words", none: "our own", kind: "font", show: PLAIN },
  inset: { label: "From the edge to the middle of the capitals", none: "a usual way", kind: "text", hint: LENGTH, drop: "leave it out" },
};

export const LAYER = {
  card: { label: "Colour of this card", none: "no colour", kind: "text", hint: "Any name.", picks: [["moss", "moss"], ["sand", "sand"], ["brick", "brick"], ["cream", "cream"]], show: PLAIN },
  border: { label: "How much of this card shows round the one above", none: "no border", kind: "text", hint: "5mm; -5mm lies on top." },
  opening: { label: "What becomes of the opening", none: "follows", kind: "pick", picks: [["follow", "follow, the border shows there too"], ["same", "same as the card before"], ["closed", "closed"]], names: { follow: "follows", same: "is the same", closed: "is closed" } },
};

export const FOLD = {
  depth: { label: "How far in from the edge it is folded", none: "no depth", kind: "text", hint: "10mm." },
  at: { ...AT, label: "On which side it is folded" },
  flat: { label: "How deep a straight foot is cut off opposite the fold", none: "0 mm", kind: "text", hint: "8mm.", drop: "0 mm" },
  ...CREASE,
};

export const LID = {
  height: { label: "How high the wall of the lid is", none: "no height", kind: "text", hint: "20mm." },
  wall: { label: "What the wall is made of", none: "strip", kind: "pick", picks: [["strip", "strip, glued round"], ["flange", "flange, teeth folded down all round"]] },
  lap: { label: "How much the ends of the strip overlap", none: "10 mm", kind: "text", hint: LENGTH, drop: "10 mm" },
  parts: { label: "In how many parts the strip is cut", none: "one part", kind: "text", hint: "2.", drop: "one part", show: (value) => `${value} parts` },
  teeth: { label: "How many teeth the flange has", none: "as many teeth as suit it", kind: "text", hint: "24.", drop: "as many as suit it", show: (value) => `${value} teeth` },
  ...CREASE,
};

export const STAND = {
  size: { label: "How wide a foot is", none: "no size", kind: "text", hint: "50mm." },
  feet: { label: "How many feet", none: "2", kind: "text", hint: "1 to 4.", drop: "2" },
  layers: { label: "How many layers of card stand in a foot", none: "1", kind: "text", hint: "1 to 20.", drop: "1" },
  play: { label: "How much wider a slot is than the card in it", none: "0.1 mm", kind: "text", hint: "0 to 2mm.", drop: "0.1 mm" },
};

export const RECIPE = {
  units: { label: "Unit of bare numbers", none: "mm", kind: "pick", picks: [["mm", "mm"], ["cm", "cm"], ["in", "in"]] },
};

export const FILES = {
  formats: { label: "Kinds of file", none: "SVG, DXF and PNG", kind: "text", hint: "svg, dxf, png, or some of them.", drop: "all of them", show: PLAIN },
  dxf: { label: "How curves stand in the DXF", none: "bulges", kind: "pick", picks: [["bulges", "bulges"], ["r12", "r12"], ["splines", "splines"], ["lines", "lines"]] },
  dxf_unit: { label: "Unit of the DXF", none: "mm", kind: "pick", picks: [["mm", "mm"], ["in", "in"]] },
  one_path: { label: "All cut lines of a file in a single path", none: "paths as they come", kind: "pick", picks: [[null, "paths as they come"], [true, "one single path"]], names: { yes: "one single path" } },
  split_kinds: { label: "Creases and marks", none: "in files of their own too", kind: "pick", picks: [[null, "in files of their own too"], ["no", "in the one file only"]], names: { no: "in the one file only", yes: "in files of their own too" } },
  hand_out: { label: "A hand-out to print", none: "no hand-out", kind: "pick", picks: [[null, "no hand-out"], [true, "a hand-out, a page a project"]], names: { yes: "a hand-out to print" } },
  as_cut: { label: "A picture of the card as cut", none: "no picture as cut", kind: "pick", picks: [[null, "no picture as cut"], [true, "a picture as cut, every bit to pick out numbered"]], names: { yes: "a picture as cut" } },
};

const OF_SHEETS = {
  margin: { label: "Margin kept free at the edge of a sheet", none: "5 mm", kind: "text", hint: LENGTH, drop: "5 mm" },
  apart: { label: "Kept between pieces on a sheet", none: "3 mm", kind: "text", hint: LENGTH, drop: "3 mm" },
  price: { label: "What one sheet costs", none: "no price", kind: "text", hint: "0.35.", drop: "leave it out" },
  stack: { label: "How many sheets are cut at once, or how deep the cut goes", none: "1", kind: "text", hint: "3, or 0.9mm.", drop: "1" },
};

export const SHEETS = {
  sheet: { label: "Sheets to lay all pieces on", none: "no sheet", kind: "text", hint: "A4, A4 landscape, 12x12in, or several.", picks: [["A4", "A4"], ["A3", "A3"], ["12x12in", "12 x 12 in"]], drop: "no sheet", show: PLAIN },
  ...OF_SHEETS,
  turn: { label: "How pieces may turn on the sheet", none: "free", kind: "pick", picks: [["free", "free"], ["quarter", "quarter"], ["half", "half"], ["none", "none"]] },
  seed: { label: "Another number gives another search", none: "1", kind: "text", hint: "2.", drop: "1" },
  tries: { label: "How many orders of the pieces are tried", none: "a usual number", kind: "text", hint: "Fewer end sooner, more may save a sheet.", drop: "a usual number" },
};

const LIMIT = (label, hint = LENGTH) => ({ label, none: "as the preset says", kind: "text", hint, drop: "as the preset says" });

/** What holds for all pieces of one colour of card. */
export const CARD = {
  preset: { label: "Card and machine", none: "card-240-knife", kind: "text", hint: "The name of a preset.", picks: [["card-240-knife", "card 240, knife"], ["card-240-laser", "card 240, laser"]], drop: "leave it out", show: PLAIN },
  thickness: LIMIT("How thick it is"),
  least_web: LIMIT("Least card between two cuts"),
  least_neck: LIMIT("Least width of a neck"),
  least_finger: LIMIT("Least width of a finger"),
  least_slot: LIMIT("Least width of a slot"),
  least_hole: LIMIT("Least hole"),
  crumb: LIMIT("Least bit of card or waste", "Square millimetres: 4."),
  tip: LIMIT("Sharpest tip that holds", "An angle: 20deg."),
  near_miss: LIMIT("How close two cuts come that nearly meet"),
  speed: LIMIT("How fast it is cut", "Millimetres a second: 20."),
  passes: LIMIT("How often each line is cut", "1 to 20."),
  lift_time: LIMIT("How long a lift of the blade takes", "Seconds: 0.5."),
  dash: LIMIT("How long the dashes of a crease are"),
  dash_space: LIMIT("How much card stays between two dashes"),
  kerf: { label: "Kerf: width the laser burns away", none: "0 mm", kind: "text", hint: "0.15mm.", picks: ALLOWANCE, drop: "0 mm", names: { preset: "what the preset says" } },
  overcut: { label: "Overcut: the blade runs on a little past the start", none: "0 mm", kind: "text", hint: "0.5mm.", picks: ALLOWANCE, drop: "0 mm", names: { preset: "what the preset says" } },
  lead_in: { label: "Lead-in: the cut starts this far off, in the waste", none: "0 mm", kind: "text", hint: "1mm.", drop: "0 mm" },
  sheets: { label: "Sheets there are of it", none: "those of all cards", kind: "text", hint: "A4, 12x12in.", drop: "those of all cards", show: PLAIN },
  ...OF_SHEETS,
};
