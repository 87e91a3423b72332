// The clauses of the sentence: what is said in each, in its order. The first is always there; others when something is
// said in them, or when they are asked for. A key in braces is a blank of the table that the clause is of.

/** Of the piece and of its first row. */
export const FIRST = "Put {count} of {motif} round a {shape} of {size} facing {place} with {middle}.";
export const BARE = "A {shape} of {size} with {middle}.";
export const INNER = "A piece that goes into the opening of {from_opening}, with {middle}.";
export const FIRST_RINGS = "From one sheet, one inside another, cut rings of {sizes}.";
export const NEXT = "Then put {count} of {motif} facing {place}.";
/** How a place is said that is no side: the words in place of "facing". */
export const FACING = { window: "as", across: "set" };
export const NEXT_RING = "Put {count} of {motif} on {on} facing {place}.";

/** Of every row: `words` stand on the button that asks for it. */
export const ROW_CLAUSES = [
  { key: "spacing", words: "gap and scale", say: "Leave {gap} between them, at {scale} scale." },
  { key: "feet", words: "feet", say: "Width of their feet: {foot}; from foot to foot: {foot_gap}." },
  { key: "stance", words: "how they sit", say: "They sit {seat}, leaning {lean}, {mirror}." },
  { key: "edge", words: "the edge between", say: "The edge between is {between}, by {depth}." },
  { key: "order", words: "positions", say: "The first sits at {start}; positions left out: {skip}; a zone kept free: {keep_free}, the others {free}." },
  { key: "where", words: "which edge", say: "They stand on {on}.", isOfPieces: true },
  { key: "inset", words: "further in", say: "They stand {inset} in from their edge." },
  { key: "spread", words: "how an oval is filled", say: "On an oval they stand at {spread}." },
  { key: "rest", words: "what is left over", say: "The rest is closed by {rest} at the {seam}, filled with {filler}." },
  { key: "drawing", words: "white, islands, loose parts", say: "Near-white shapes are {white}; islands in windows {keep_counters}; loose parts are {loose}." },
];

const MACHINE = { key: "machine", words: "kerf, overcut, bridges", say: "Allow {kerf} for the kerf, {overcut} for the overcut, {lead_in} for the lead-in; bridges: {bridges}. The card lies {flip}." };

/** Of the piece itself. */
export const PIECE_CLAUSES = [
  { key: "card", words: "card and limits", say: "Cut it from {card} card by the limits of {preset}; it must go in {goes_in}. Mend {mend}." },
  { key: "copies", words: "copies", say: "Make {copies} of it, on sheets of {sheet} only.", names: { sheet: "this.sheet" } },
  { key: "found", words: "an oval to be found", say: "An oval to be found is {ratio} wide over high, or grows from {grow_from}." },
  { key: "opening", words: "what comes out of the opening", say: "What comes out of the opening is {inside}; it is {clearance} smaller all round." },
  { key: "inner", words: "made for an opening", say: "It goes into the opening of {from_opening}." },
  MACHINE,
  { key: "match", words: "matching holes", say: "The cards below go together by {match}." },
];

export const RINGS_CLAUSES = [
  { key: "card", words: "card and limits", say: "Cut them from {card} card by the limits of {preset}." },
  { key: "copies", words: "copies", say: "Make {copies} of them, on sheets of {sheet} only.", names: { sheet: "this.sheet" } },
  MACHINE,
];

const CREASE = "Its crease is {crease}, dashes {dash} long and {dash_space} apart, and stops {stop} short.";

/** What a piece may have once or several times: `start` is what it begins with, `first` the blank that opens then. */
export const TABLES = [
  { key: "text", words: "words on it", say: "Say {words} along the {along}, at the {at}, as {as}.", more: "Capitals are {size} high and read from the {reads}, {inset} in from the edge, round {limit} at most; the font is {font}.", first: "words", away: "Take these words away",
    other: { key: "along", value: "middle", say: "Say {words} in the {along}, as {as}.", more: "Capitals are {size} high; the font is {font}." } },
  { key: "hole", words: "a round hole", say: "A round hole of {size} at the {at}.", start: { size: "4mm", at: "top" }, first: "size", away: "Take this hole away" },
  { key: "layer", words: "a card below", say: "Below it lies {card} card that shows {border} all round; its opening {opening}.", start: { card: "cream", border: "5mm" }, first: "card", away: "Take this card away" },
  { key: "fold", words: "a fold", isOnce: true, say: "Fold it {depth} in from the {at}, with a foot cut off {flat} deep.", more: CREASE, start: { depth: "10mm", at: "top" }, first: "depth", away: "Take the fold away" },
  {
    key: "lid", words: "a lid", isOnce: true, say: "Make it a lid with a {wall} wall of {height}, in {parts}, its ends overlapping by {lap}.",
    other: { key: "wall", value: "flange", say: "Make it a lid with a {wall} wall of {height}, with {teeth}.", more: CREASE },
    start: { height: "20mm" }, first: "height", away: "Take the lid away",
  },
  { key: "stand", words: "a stand", isOnce: true, say: "It stands in {feet} feet of {size}, {layers} layers of card in each, with {play} of play.", start: { size: "50mm" }, first: "size", away: "Take the stand away" },
];

/** Of all pieces together. */
export const RECIPE_CLAUSES = [
  { key: "files", table: "files", words: "files", say: "Beside the files to cut, write {hand_out} and {as_cut}.", more: "The kinds are {formats}: DXF in {dxf}, in {dxf_unit}; cut lines in {one_path}; creases and marks {split_kinds}." },
  { key: "sheets", table: "sheets", words: "sheets", say: "Lay all on {sheet}, with a margin of {margin}, {apart} apart.", more: "Pieces turn {turn}; a sheet at {price}; {stack} cut at once; search {seed}, {tries} tries." },
  { key: "units", table: "", words: "unit of bare numbers", say: "A number without a unit means {units}." },
];

/** Of one colour of card. */
export const CARD_SAY = {
  say: "All {NAME} card is of {preset}, on sheets of {sheets}.",
  more: [
    "Margin {margin}, {apart} apart, {price} a sheet, {stack} at once.",
    "Kerf {kerf}, overcut {overcut}, lead-in {lead_in}.",
    "Its limits: {thickness} thick; web {least_web}, neck {least_neck}, finger {least_finger}, slot {least_slot}, hole {least_hole}, bits {crumb}, tips {tip}, near misses {near_miss}.",
    "Cut at {speed}, in passes of {passes}, lifts of {lift_time}; dashes {dash}, {dash_space} apart.",
  ],
};

export const FIRST_TEST = "The test piece of your machine and card, to be cut and measured before all else.";
