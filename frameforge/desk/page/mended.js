// A piece before and after mending, under the same marks: what was changed, what was not, and the choice between them.

import { button, html, svg } from "./build.js";
import { Near } from "./near.js";
import { marks } from "./picture.js";

const SIDE_BY_SIDE = 560;
const BETWEEN = 16;

/** Whether there is something to compare: a place that can be mended, or was. */
export function canBeMended(desk) {
  return desk.pieces().some((piece) => piece.mendable || piece.mended);
}

/** Return every piece that mending changes, before and after. */
export async function mended(desk) {
  const isWide = desk.width() >= SIDE_BY_SIDE;
  const width = isWide ? (desk.width() - BETWEEN) / 2 : desk.width();
  const answer = await desk.ask("mended", { recipe: desk.recipe(), width });
  if (answer.replaced) return null;
  if (!answer.pieces) return [html("div", { class: "told" }, ...desk.message(answer.refused ?? []))];
  if (!answer.pieces.length) return [html("p", {}, "Nothing here has to be mended.")];
  const keep = button("Mend what can be mended", () => desk.replace(answer.with), { "aria-pressed": String(answer.is_on) });
  const leave = button("Leave it as it was", () => desk.replace(answer.without), { "aria-pressed": String(!answer.is_on) });
  return [
    html("div", { class: "tools", role: "group", "aria-label": "What is cut" }, keep, leave),
    ...answer.pieces.map((piece) => figure(piece, answer.pieces.length === 1, isWide)),
  ];
}

function figure(piece, isAlone, isWide) {
  const rows = new Map();
  const lines = [...piece.left, ...piece.changed];
  const choose = (number) => rows.get(number)?.focus();
  const before = drawing(piece, "before", choose);
  const after = drawing(piece, "after", choose);
  const near = new Near([before, after]);
  const listed = (line) => {
    const row = html("button", { type: "button", class: "row", onclick: () => {
      for (const other of rows.values()) other.classList.toggle("chosen", other === row);
      near.onwhole = () => row.focus();
      near.go(line.places, String(line.number));
      before.closest(".compared").scrollIntoView({ block: "nearest" });
    } }, html("strong", {}, line.label), html("span", { class: "kind" }, line.code), html("span", { class: "what" }, line.sentence));
    rows.set(line.number, row);
    return html("li", {}, row);
  };
  const list = (words, some) => (some.length ? [html(isAlone ? "h2" : "h3", {}, words), html("ol", { class: "findings changed", "aria-label": words }, ...some.map(listed))] : []);
  return html("figure", {},
    isAlone ? null : html("h2", {}, piece.name),
    ...compared(before, after, isWide),
    near.bar,
    ...list(piece.left.length ? "Mended" : `Mended, ${piece.changed.length === 1 ? "one kind of place" : `${piece.changed.length} kinds of place`}`, piece.changed),
    ...list("Not mended, no way was found", piece.left),
    html("ul", { class: "said" }, ...piece.said.map((line) => html("li", {}, line))),
    lines.length ? null : html("p", {}, "Nothing here has to be mended."));
}

// Side by side; where there is no room for that, one at a time, with a button to change over.
function compared(before, after, isWide) {
  const halves = [["As it was", before], ["Mended", after]].map(([words, drawn]) => html("div", {}, html("p", { class: "caption" }, words), drawn));
  const both = html("div", { class: isWide ? "compared both" : "compared" }, ...halves);
  if (isWide) return [both];
  const swap = button("", () => show(!halves[0].hidden));
  const show = (isMended) => {
    halves[0].hidden = isMended;
    halves[1].hidden = !isMended;
    swap.textContent = isMended ? "Show it as it was" : "Show it mended";
  };
  show(true);
  return [both, html("div", { class: "tools" }, swap)];
}

function drawing(piece, which, onchoose) {
  const other = which === "after" ? piece.before : null;
  const words = which === "after" ? "mended" : "as it was";
  return svg("svg", { viewBox: `0 0 ${piece.width} ${piece.height}`, width: piece.width, height: piece.height, role: "group", "aria-label": `${piece.name}, ${words}` },
    svg("path", { d: piece[which].path, fill: piece[which].colour, class: "edge" }),
    other ? svg("path", { d: other.path, class: "was" }) : null,
    ...marks(piece, onchoose));
}
