// The bench: every piece with its neighbouring counts, its findings, and what is said of it.

import { button, html } from "./build.js";
import { motifDrawings, showsDimensions, turnDimensions } from "./dimensions.js";
import { measuringOn } from "./measure.js";
import { Near } from "./near.js";
import { drawing, pointAt, positions } from "./picture.js";

/** Return the figure of one piece, the `at`-th, with its name where it is one of several. `desk` is the page's own. */
export function figure(piece, desk, isAlone, at) {
  const labels = new Map(piece.labels.map((label) => [label.number, label]));
  const rows = new Map();
  const isKnown = piece.isJudged !== false;
  const choose = (number, goesToRow) => {
    pointAt(drawn, labels.get(number) ?? null);
    for (const [own, row] of rows) row.classList.toggle("chosen", own === number);
    if (goesToRow) {
      rows.get(number)?.focus();
      return;
    }
    near.onwhole = () => rows.get(number)?.focus();
    near.go(piece.findings.find((finding) => finding.number === number)?.places ?? [], String(number));
    drawn.scrollIntoView({ block: "nearest" });
  };
  const drawn = drawing(piece, (number) => choose(number, true));
  const near = new Near([drawn]);
  const measures = measuringOn(piece, at, drawn, desk);
  const found = piece.findings.map((finding) => html("li", {}, finding_row(finding, labels.has(finding.number) || (isKnown && finding.places.length > 0), rows, choose), html("div", { class: "beyond" }, to_manual(finding.code), ...offered(finding, desk))));
  return html("figure", { class: piece.isJudged === false ? "unjudged" : null },
    isAlone ? null : html("h2", {}, piece.name),
    piece.isFallen ? null : looking(measures, piece, drawn, desk),
    measures.line,
    drawn,
    near.bar,
    motifDrawings(piece),
    html("figcaption", { class: "caption" }, `${piece.size}${piece.card ? `, ${piece.card} card` : ""}`),
    counts(piece, desk),
    found.length ? html("ol", { class: "findings", "aria-label": "Findings" }, ...found) : null,
    piece.mendable && isChosen(piece, desk) ? html("div", { class: "tools" }, button("Mend what can be mended", () => desk.change({ mend: "all" }, []))) : null,
    html("ul", { class: "said" }, ...piece.said.map((line) => html("li", {}, line))));
}

// What is found has its page in the manual, beside the desk.
function to_manual(code) {
  return html("a", { class: "to-manual", href: `/manual/${code}`, target: "manual", "aria-label": `${code} in the manual` }, "What it means");
}

// What the sentence of a finding offers, to be taken by a click; its address tells the piece and the row.
function offered(finding, desk) {
  if (!desk.canChange()) return [];
  return (finding.offers ?? []).map(({ words, options }) => button(/^mend /.test(words) ? words.replace(/^m/, "M") : `Take ${words}`, () => desk.change(options, []), { class: "offer" }));
}

// A place that is ringed is gone to, also where there was no room for its label.
function finding_row(finding, isPlaced, rows, choose) {
  const parts = [
    html("strong", {}, finding.label || "·"),
    html("span", { class: "kind" }, finding.severity),
    html("span", { class: "what" }, finding.sentence, " ", html("span", { class: "kind" }, finding.code)),
  ];
  if (!isPlaced) return html("div", { class: "row" }, ...parts);
  const row = html("button", { type: "button", class: "row", onclick: () => choose(finding.number, false) }, ...parts);
  rows.set(finding.number, row);
  return row;
}

// How the piece is looked at: with its dimensions, with a gap measured, with its spokes and positions.
function looking(measures, piece, drawn, desk) {
  const dimensions = button("Dimensions", () => {
    turnDimensions();
    desk.refresh();
  }, { "aria-pressed": String(showsDimensions()), "data-looks": "dimensions" });
  return html("div", { class: "tools looking", role: "group", "aria-label": "How it is looked at" }, dimensions, measures.toggle, ...skipping(piece, drawn, desk));
}

let showsPositions = false;

// Of several pieces only that is changed on the bench which the sentence says.
function isChosen(piece, desk) {
  return desk.canChange() && (piece.of === undefined || piece.of === desk.at());
}

// Spokes and positions are shown when asked for; a click on a position leaves it out, a button puts it back.
function skipping(piece, drawn, desk) {
  if (!piece.positions.length || !isChosen(piece, desk)) return [];
  const key = (row) => `${row ? `row.${row}.` : ""}skip`;
  const skipped = (row) => (desk.blanks()[key(row)] ?? "").split(",").map((one) => one.trim()).filter(Boolean);
  const skip = (row, all) => desk.change(all.length ? { [key(row)]: all } : {}, all.length ? [] : [key(row)]);
  const hint = html("span", { class: "hint" }, "Choose a position to leave it out.");
  const show = () => {
    drawn.querySelector(".positions")?.remove();
    if (showsPositions) drawn.append(positions(piece, (row, number) => skip(row, [...new Set([...skipped(row), String(number)])])));
    toggle.setAttribute("aria-pressed", String(showsPositions));
    hint.hidden = !showsPositions;
  };
  const toggle = button("Spokes and positions", () => {
    showsPositions = !showsPositions;
    show();
  });
  show();
  const back = piece.rows.flatMap((_, row) => skipped(row).map((one) => {
    const words = piece.rows.length > 1 ? `Put ${one} of row ${row + 1} back` : `Put ${one} back`;
    return button(words, () => skip(row, skipped(row).filter((other) => other !== one)));
  }));
  return [toggle, ...back, hint];
}

function counts(piece, desk) {
  const row = piece.rows.length === 1 ? piece.rows[0] : null;
  if (!row || row.counts.length < 2 || !isChosen(piece, desk)) return null;
  const made = row.counts.map((one) => {
    const pressed = one.count === row.count;
    const choice = button("", () => desk.change({ count: String(one.count) }, desk.isGapStated() ? ["gap"] : []), { "aria-pressed": String(pressed) });
    choice.append(one.words, html("small", {}, one.gap));
    return choice;
  });
  return html("div", { class: "counts", role: "group", "aria-label": "Counts next to each other that close" }, ...made);
}
