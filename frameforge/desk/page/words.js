// The blanks of a piece and of its rows: their words, and what each offers. Keys are those of the recipe.

/** A value as it is shown: "76mm" reads "76 mm". */
export function shown(value) {
  return value.replace(/(\d)(mm|cm|in|deg)\b/g, "$1 $2").replace(/(\d)x(\d)/g, "$1 x $2").replace(/-/g, (sign, at) => (at ? " " : sign));
}

export const PLAIN = (value) => value;

const LENGTH = "3mm, 0.1in or 1/8 in.";
const ANGLE = "Degrees clockwise: 15deg.";
export const SIDES = [["top", "top"], ["right", "right"], ["bottom", "bottom"], ["left", "left"]];
export const ALLOWANCE = [["preset", "what the preset says"]];

/** Blanks: `none` stands in one without a value; `picks` are [value, words]; a value of null leaves the key out. */
export const PIECE = {
  name: { label: "Name of the piece and its files", none: "", kind: "text", hint: "Left out, it is named by motif, count and size.", drop: "leave it out", show: PLAIN },
  shape: { label: "Base", none: "base", kind: "pick", picks: [["circle", "circle"], ["oval", "oval"]], key: "size" },
  size: {
    label: "Size of the base", none: "a size to be found", kind: "text", slide: { least: 20, most: 300, step: 0.5, in: { least: 1, most: 12, step: 0.05 } },
    hint: "100mm, 4in or 3 1/4 in for a circle; 150x100mm for an oval.", picks: [["find", "find it"]], names: { find: "a size to be found" },
  },
  middle: { label: "The middle", none: "no hole in the middle", kind: "middle", key: "opening, rim" },
  opening: { label: "A hole of", none: "none", kind: "part", of: "middle" },
  rim: { label: "Or a rim of", none: "none", kind: "part", of: "middle" },
  card: {
    label: "Colour of card", none: "any", kind: "text", hint: "Any name: moss, sand, brick, cream are drawn in their colours.",
    picks: [["moss", "moss"], ["sand", "sand"], ["brick", "brick"], ["cream", "cream"]], drop: "any", show: PLAIN,
  },
  preset: {
    label: "Card and machine", none: "card-240-knife", kind: "text", hint: "The name of a preset.", drop: "leave it out",
    picks: [["card-240-knife", "card 240, knife"], ["card-240-laser", "card 240, laser"]], show: PLAIN,
  },
  goes_in: { label: "What it must go in", none: "anything", kind: "text", hint: "C6, US A7, 114x162mm, or 76mm for a tin. 3 mm stay free each side.", drop: "anything", show: PLAIN },
  copies: { label: "How many of this piece", none: "1", kind: "text", hint: "For the report and the sheets.", drop: "1" },
  mend: { label: "What is mended", none: "nothing", kind: "text", picks: [[null, "nothing"], ["all", "all that can be"]], hint: "all, or words of findings: thin-web, spike.", names: { all: "all that can be" }, show: PLAIN, many: true },
  ratio: { label: "Width over height of the oval to be found", none: "any", kind: "text", hint: "1.5 is half as wide again as high.", drop: "any" },
  grow_from: { label: "The oval that grows by the same on both axes", none: "no oval", kind: "text", hint: "150x100mm. It makes the size one to be found.", drop: "no oval" },
  inside: {
    label: "What comes out of the opening", none: "not used", kind: "text", hint: "40mm makes it a frame with that opening; 40mm, 20mm two of them.",
    picks: [[null, "not used"], ["keep", "a piece too"]], names: { keep: "a piece too" },
  },
  clearance: { label: "How much smaller all round it is, to sit loosely", none: "0 mm", kind: "text", hint: "0.3mm.", drop: "0 mm" },
  from_opening: { label: "The piece into whose opening this one goes", none: "none", kind: "text", hint: "The name of another piece. It tells how large this one is.", drop: "none", show: PLAIN },
  match: { label: "What matches the cards below", none: "nothing", kind: "pick", picks: [[null, "nothing"], ["holes", "matching holes"], ["notches", "notches"]], names: { holes: "matching holes" } },
  kerf: { label: "Kerf: width the laser burns away", none: "0 mm", kind: "text", hint: "0.15mm; 0 for a knife.", picks: ALLOWANCE, drop: "0 mm", names: { preset: "what the preset says" } },
  overcut: { label: "Overcut: the blade runs on a little past the start", none: "0 mm", kind: "text", hint: "0.5mm.", picks: ALLOWANCE, drop: "0 mm", names: { preset: "what the preset says" } },
  lead_in: { label: "Lead-in: the cut starts this far off, in the waste", none: "0 mm", kind: "text", hint: "1mm.", drop: "0 mm" },
  bridges: { label: "Bridges: short uncut bits that keep the piece in the sheet", none: "none", kind: "text", hint: "4 x 0.6mm, or 0.6mm every 60mm.", drop: "none", show: PLAIN },
  flip: { label: "How the card lies on the machine", none: "face up", kind: "pick", picks: [[null, "face up"], [true, "face down, for patterned card cut from its back"]], names: { yes: "face down" } },
  sheet: { label: "The only sheets this piece may lie on", none: "any", kind: "text", hint: "A4, A4 landscape, 12x12in.", drop: "any", show: PLAIN },
};

export const ROW = {
  count: { label: "How many", none: "as many as fit", kind: "count", picks: [["most", "as many as fit"], ["find", "find it"]], hint: "A whole number.", names: { most: "as many as fit", find: "a count to be found" } },
  motif: { label: "Motif", none: "no motif", kind: "motif" },
  place: {
    label: "Where the motifs go", none: "out", kind: "pick",
    picks: [["out", "out, outside the edge"], ["in", "in, into the opening"], ["window", "window, cut through the card"], ["across", "across, half and half"]],
    names: { window: "windows cut through the card", across: "across the edge, half and half" },
  },
  gap: {
    label: "Gap between two motifs", none: (blanks, row) => (/^\d+$/.test(blanks[`${row}count`] ?? "") ? "what the count gives" : "2 mm or more"),
    kind: "text", hint: `${LENGTH} With a count it may be left to it.`, slide: { least: 0, most: 20, step: 0.1, lets: "count", in: { least: 0, most: 0.8, step: 0.005 } }, picks: [["find", "find it"]], names: { find: "a gap to be found" }, drop: "leave it to the count",
  },
  foot_gap: { label: "Gap between the feet of two motifs", none: "as the gap gives", kind: "text", hint: `${LENGTH} Instead of the gap.`, drop: "leave it to the gap", instead: "gap" },
  scale: { label: "Scale of the motif", none: "full", kind: "text", hint: "0.7 is smaller, 1.2 larger.", slide: { least: 0.3, most: 2, step: 0.01, unit: "" }, picks: [["find", "find it"]], names: { find: "a fitting" }, drop: "full" },
  foot: { label: "Foot: how wide the motif stands on the edge", none: "as drawn", kind: "text", hint: `${LENGTH} Instead of the scale.`, picks: [["find", "find it"]], names: { find: "to be found" }, drop: "as drawn" },
  lean: { label: "How far the motifs lean", none: "not at all", kind: "text", hint: ANGLE, drop: "not at all" },
  seat: { label: "How the motif sits", none: "as drawn", kind: "pick", picks: [["as-drawn", "as drawn, its foot sunk into the curve"], ["bent", "bent, to follow the edge"]] },
  mirror: { label: "Turned over", none: "all alike", kind: "pick", picks: [[null, "all alike"], ["every-other", "every other one turned over"]], names: { "every-other": "every other one turned over" } },
  on: { label: "The edge the motifs stand on", none: "the edge of their place", kind: "pick", picks: [[null, "the edge of their place"], ["base", "edge of the base"], ["opening", "edge of the opening"]], names: { base: "the edge of the base", opening: "the edge of the opening" } },
  inset: { label: "How far in from the edge they stand", none: "0 mm", kind: "text", hint: LENGTH, drop: "0 mm" },
  between: {
    label: "The edge between two motifs", none: "kept", kind: "pick",
    picks: [["keep", "kept"], ["flat", "flat, straight from foot to foot"], ["hollow", "hollow"], ["raised", "raised"], ["level", "level, for corner motifs"]],
    names: { keep: "kept" },
  },
  depth: { label: "How deep a hollow edge, how high a raised one, how far corners sink in", none: "a usual depth", kind: "text", hint: LENGTH, drop: "a usual depth" },
  spread: { label: "How repeats are spread on an oval", none: "equal gaps", kind: "pick", picks: [["equal-gap", "equal gaps"], ["equal-arc", "equal ways along the edge"], ["equal-chord", "equal ways straight across"]], names: { "equal-gap": "equal gaps", "equal-arc": "equal ways along the edge", "equal-chord": "equal ways straight across" } },
  start: { label: "Where the first motif sits", none: "the top", kind: "text", hint: "Degrees clockwise from the top: 15deg.", picks: [["half", "half on, a gap at the top"]], drop: "the top", names: { half: "half a step on" } },
  skip: { label: "Positions left out", none: "none", kind: "text", hint: "Counted from 1 at the top, clockwise: 1,4 or top.", drop: "none", many: true },
  keep_free: { label: "A zone without motifs", none: "no zone", kind: "text", hint: "60deg at top.", drop: "no zone" },
  free: { label: "Beside that zone", none: "spread", kind: "pick", picks: [["spread", "spread, all of the count go there"], ["leave", "leave, the others stay where they are"]], names: { leave: "left where they are" } },
  rest: { label: "What a gap leaves over", none: "a usual way", kind: "pick", picks: [[null, "a usual way"], ["spread", "spread, all gaps a little wider"], ["size", "size, another size closes"], ["filler", "filler, a smaller motif"]] },
  seam: { label: "Where the rest lies", none: "bottom", kind: "text", hint: "Degrees clockwise from the top: 90deg.", picks: SIDES, drop: "bottom" },
  filler: { label: "The motif that fills the rest", none: "the best one", kind: "motif", drop: "the best one" },
  white: { label: "Near-white shapes in your drawing", none: "kept", kind: "pick", picks: [["keep", "kept"], ["cuts", "cut out of what lies below"]], names: { keep: "kept", cuts: "cut out of what lies below" } },
  keep_counters: { label: "Islands of card in windows", none: "go too", kind: "pick", picks: [[null, "go too"], [true, "kept, held by ties"]], names: { yes: "are kept, held by ties" } },
  loose: { label: "Parts of motifs that nothing holds", none: "refused", kind: "pick", picks: [["keep", "refused"], ["tie", "held by ties"], ["drop", "left out"]], names: { keep: "refused", tie: "held by ties", drop: "left out" } },
};

/** One motif of several in turn, and how it differs. */
export const ENTRY = {
  scale: { label: "Scale of this motif", none: "full", kind: "text", hint: "0.8 is smaller than the others.", drop: "full" },
  lean: { label: "How far this motif leans", none: "as the others", kind: "text", hint: ANGLE, drop: "as the others" },
  mirror: { label: "This motif turned over", none: "as drawn", kind: "pick", picks: [[null, "as drawn"], [true, "turned over"]], names: { yes: "turned over" } },
};

export const RINGS = {
  sizes: { label: "Sizes of all edges", none: "no sizes", kind: "text", hint: "60-140 by 20, or 44, 61, 78 mm.", show: PLAIN },
  name: PIECE.name,
  card: PIECE.card,
  preset: PIECE.preset,
  copies: PIECE.copies,
  kerf: PIECE.kerf,
  overcut: PIECE.overcut,
  lead_in: PIECE.lead_in,
  bridges: PIECE.bridges,
  flip: PIECE.flip,
  sheet: PIECE.sheet,
};

/** A row on one of several rings: its edge goes by its size. */
export const RING_ROW = { ...ROW, on: { label: "The edge the motifs stand on", none: "the outermost", kind: "text", hint: "Its size, one of those of the rings: 100mm.", drop: "the outermost" } };
