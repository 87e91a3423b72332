// Dimension lines on a drawing, and the motifs drawn larger beside it with theirs.

import { html, svg } from "./build.js";

let isOn = false;

/** Whether pieces are shown with their dimensions; the same for all, whatever else is changed. */
export function showsDimensions() {
  return isOn;
}

export function turnDimensions() {
  isOn = !isOn;
}

/** Return the pieces with their dimensions; as they are where these cannot be told, null where it is too late. */
export async function withDimensions(desk) {
  const pieces = desk.pieces();
  const answer = await desk.ask("dimensions", { recipe: desk.recipe(), width: desk.width() });
  if (answer.replaced) return null;
  return answer.pieces?.length === pieces.length ? pieces.map((piece, at) => ({ ...piece, ...answer.pieces[at] })) : pieces;
}

/** Return dimension lines as they lie on a drawing. */
export function dimensionLines(lines) {
  const words = (line) => svg("text", { x: line.x, y: line.y, transform: line.turn ? `rotate(${line.turn} ${line.x} ${line.y})` : null }, line.words);
  return svg("g", { class: "dimensions" },
    ...lines.map((line) => svg("path", { d: `${line.extensions} ${line.line}`, class: "case", "stroke-width": 3 })),
    ...lines.map((line) => svg("path", { d: `${line.extensions} ${line.line}`, class: "thin" })),
    ...lines.map((line) => svg("path", { d: line.arrows, class: "arrow" })),
    ...lines.map(words));
}

/** Return the motifs of a piece by themselves; nothing where it has none. */
export function motifDrawings(piece) {
  if (!piece.motifs?.length) return null;
  const colour = piece.cards[0].colour;
  return html("div", { class: "motif-drawings" }, ...piece.motifs.map((motif) => {
    const told = motif.dimensions.map((line) => line.words).join(", ");
    const drawn = svg("svg", { viewBox: `0 0 ${motif.width} ${motif.height}`, width: motif.width, height: motif.height, role: "img", "aria-label": `${motif.words}: ${told}` },
      motif.join ? svg("path", { d: motif.join, fill: colour, class: "edge" }) : null,
      motif.cut_away ? svg("path", { d: motif.cut_away, class: "bench-line dotted" }) : null,
      motif.window ? svg("path", { d: motif.window, class: motif.join ? "edge hole" : "bench-line" }) : null,
      motif.edge ? svg("path", { d: motif.edge, class: "thin dotted" }) : null,
      dimensionLines(motif.dimensions));
    return html("div", {}, drawn, html("p", { class: "caption" }, `${motif.words}, ${motif.times}`));
  }));
}
