// A piece on the bench: its card at true proportion, rings and plant labels for what was found.

import { svg } from "./build.js";
import { dimensionLines } from "./dimensions.js";

const LABEL = 22;
const POINT = 10;

/** Return the drawing of a piece; `onchoose(number)` is called when a label is chosen. */
export function drawing(piece, onchoose) {
  const what = [`${piece.name}${piece.card ? ` in ${piece.card} card` : ""}, ${piece.size}`];
  if (piece.labels.length) what.push(`${piece.labels.length} kinds of place marked`);
  if (piece.dimensions?.length) what.push(piece.dimensions.map((line) => line.words).join(", "));
  const [left, top, width, height] = piece.view ?? [0, 0, piece.width, piece.height];
  const drawn = svg("svg", { viewBox: `${left} ${top} ${width} ${height}`, width, height, role: "group", "aria-label": what.join("; ") });
  drawn.append(...piece.cards.map((card) => svg("path", { d: card.path, fill: card.colour, class: "edge" })));
  drawn.append(...cased(piece.marks, ""), ...cased(piece.creases, "6 4"));
  if (piece.dimensions) drawn.append(dimensionLines(piece.dimensions));
  drawn.append(...marks(piece, onchoose), ...bar(piece));
  return drawn;
}

/** Return rings, leaders and plant labels of what is marked on a drawing. */
export function marks(piece, onchoose) {
  return [
    ...piece.rings.map((ring) => circle(ring, "case ring", 5, "")),
    ...piece.labels.map((label) => leader(label, "case leader", 4)),
    ...piece.rings.map((ring) => circle(ring, "line ring", 1.8, ring.severity)),
    ...piece.labels.map((label) => leader(label, "line leader", 1.3)),
    ...piece.labels.map((label) => tag(label, onchoose)),
  ];
}

/** Point at the place of a label, or at none. */
export function pointAt(drawn, label) {
  drawn.querySelector(".pointer")?.remove();
  for (const one of drawn.querySelectorAll(".tag")) one.classList.toggle("chosen", label !== null && one.dataset.number === String(label.number));
  if (label) drawn.append(svg("circle", { class: "pointer", cx: label.ring.x, cy: label.ring.y, r: label.ring.r + 6 }));
}

const INWARD = 15;
const ROOM = 20;

/** Return the spokes of a piece and a mark on each position; `onpick(row, number)` is called when one is chosen. */
export function positions(piece, onpick) {
  const { x: mx, y: my } = piece.middle;
  const many = piece.rows.length > 1;
  const places = piece.positions.map(({ row, number, x, y }) => {
    const far = Math.hypot(x - mx, y - my) || 1;
    const part = Math.max(far - INWARD, 0) / far;
    return { row, number, x: mx + (x - mx) * part, y: my + (y - my) * part };
  });
  const isRoomy = places.every((one, at) => !at || one.row !== places[at - 1].row || Math.hypot(one.x - places[at - 1].x, one.y - places[at - 1].y) >= ROOM);
  const spokes = places.map((one) => `M ${mx} ${my} L ${one.x} ${one.y}`).join(" ");
  const marks = places.map((one) => {
    const pick = () => onpick(one.row, one.number);
    const words = `${many ? `row ${one.row + 1}, ` : ""}position ${one.number}, leave it out`;
    const pressed = (event) => {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      pick();
    };
    return svg("g", { class: "position", tabindex: 0, role: "button", "aria-label": words, onclick: pick, onkeydown: pressed },
      svg("circle", { cx: one.x, cy: one.y, r: isRoomy ? 10 : 4 }), isRoomy ? svg("text", { x: one.x, y: one.y + 4 }, String(one.number)) : null);
  });
  return svg("g", { class: "positions" }, ...cased([spokes], "1 3"), ...marks);
}

function cased(paths, dashes) {
  return paths.flatMap((d) => [
    svg("path", { d, class: "case", "stroke-width": 2.4 }),
    svg("path", { d, class: "line", "stroke-width": 0.8, "stroke-dasharray": dashes || null }),
  ]);
}

function circle(ring, kind, width, severity) {
  return svg("circle", { cx: ring.x, cy: ring.y, r: ring.r + 0.9, class: severity === "note" ? `${kind} dotted` : kind, "stroke-width": width });
}

function leader(label, kind, width) {
  return svg("path", { d: `M ${label.from.x} ${label.from.y} L ${label.x} ${label.y}`, class: kind, "stroke-width": width });
}

function tag(label, onchoose) {
  const { x, y, up } = label;
  const half = label.width / 2;
  const baseline = up > 0 ? y - 16 : y + POINT + 15;
  const reach = Math.max(7, half - 6);
  const shape = svg("path", { d: `M ${x} ${y} l ${-half} ${-POINT * up} v ${-LABEL * up} h ${2 * half} v ${LABEL * up} Z` });
  const words = svg("text", { x, y: baseline }, label.words);
  const under = label.severity === "warning" ? svg("line", { x1: x - reach, x2: x + reach, y1: baseline + 4.5, y2: baseline + 4.5 }) : null;
  const choose = () => onchoose(label.number);
  const pressed = (event) => {
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      choose();
    }
  };
  return svg("g", {
    class: `tag ${label.severity}`, "data-number": label.number, tabindex: 0, role: "button",
    "aria-label": `${label.severity} ${label.words}, go to its line`, onclick: choose, onkeydown: pressed,
  }, shape, words, under);
}

/** Return the 50 mm bar below a drawing. */
export function bar(piece) {
  const right = piece.width - 4;
  const left = right - piece.bar;
  const y = piece.height - 14;
  const line = svg("path", { d: `M ${left} ${y} H ${right} M ${left} ${y - 4} v 8 M ${right} ${y - 4} v 8`, class: "bench-line" });
  return [svg("g", { class: "bar" }, line, svg("text", { x: left - 8, y: y + 5, class: "small", "text-anchor": "end" }, "50 mm"))];
}
