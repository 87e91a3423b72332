// The card as it comes off the board: waste hatched, every bit to pick out numbered from the smallest, with the list.

import { html, svg } from "./build.js";
import { Near } from "./near.js";
import { bar } from "./picture.js";

/** Return the pieces as they are cut. */
export async function asCut(desk) {
  const answer = await desk.ask("as-cut", { recipe: desk.recipe(), width: desk.width() });
  if (answer.replaced) return null;
  if (!answer.pieces) return [html("div", { class: "told" }, ...desk.message(answer.refused ?? []))];
  return answer.pieces.map((piece, at) => figure(piece, at, answer.pieces.length === 1));
}

function figure(piece, at, isAlone) {
  const drawn = drawing(piece, at);
  const near = new Near([drawn]);
  const shapes = [...drawn.querySelectorAll(".hatched")];
  const rows = piece.list.map((line) => {
    const row = html("button", { type: "button", class: "row", onclick: () => {
      for (const [k, shape] of shapes.entries()) shape.classList.toggle("chosen", k + 1 >= line.first && k < line.last);
      for (const other of rows) other.classList.toggle("chosen", other === row);
      near.onwhole = () => row.focus();
      near.go(piece.bits.slice(line.first - 1, line.last).map((bit) => bit.place), "");
      drawn.scrollIntoView({ block: "nearest" });
    } }, html("strong", {}, line.label), html("span", { class: "what" }, line.what));
    return row;
  });
  return html("figure", {},
    isAlone ? null : html("h2", {}, piece.name),
    drawn, near.bar,
    html("figcaption", { class: "caption" }, piece.words),
    rows.length ? html("ol", { class: "findings bits", "aria-label": "Bits to pick out" }, ...rows.map((row) => html("li", {}, row))) : null);
}

function drawing(piece, at) {
  const id = `waste-${at}`;
  const hatch = svg("pattern", { id, width: 5, height: 5, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
    svg("rect", { width: 5, height: 5, class: "bench" }), svg("path", { d: "M 0 0 V 5", class: "hatch" }));
  return svg("svg", { viewBox: `0 0 ${piece.width} ${piece.height}`, width: piece.width, height: piece.height, role: "img", "aria-label": `${piece.name} as cut. ${piece.words}` },
    svg("defs", {}, hatch),
    svg("path", { d: piece.card.path, fill: piece.card.colour, class: "edge" }),
    ...piece.bits.map((bit) => svg("path", { d: bit.path, fill: `url(#${id})`, class: "hatched" })),
    ...piece.bits.flatMap(({ number }, k) => (number ? [svg("text", { x: number.x, y: number.y + 3.6, class: "bit" }, String(k + 1))] : [])),
    ...bar(piece));
}
