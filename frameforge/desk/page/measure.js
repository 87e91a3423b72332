// The gap between any two repeats: chosen on the drawing or in the line above it, drawn and told.

import { button, html, svg } from "./build.js";

// Which piece is measured, between which of its repeats; kept while other things are changed.
let measuring = null;

/** Return what measures gaps on the drawing of a piece, the `at`-th: a switch, and a line with two choices. */
export function measuringOn(piece, at, drawn, desk) {
  const line = html("div", { class: "measuring", hidden: true });
  const told = html("strong", { role: "status" });
  const choices = [html("select", { "aria-label": "From" }), html("select", { "aria-label": "To" })];
  let shapes = [];

  const isOn = () => measuring?.at === at;
  const ask = (more) => desk.ask("measure", { recipe: desk.recipe(), piece: at, map: piece.map, ...more });

  async function start() {
    const answer = await ask({});
    if (!answer.repeats || !isOn()) return;
    const many = answer.repeats.length;
    line.hidden = false;
    if (many < 2) {
      line.replaceChildren(html("span", { class: "hint" }, "A gap lies between two motifs; this piece has fewer."));
      return;
    }
    measuring.pair = measuring.pair.map((one, k) => Math.min(one, many - 2 + k));
    shapes = answer.repeats.map((repeat, k) => svg("path", { d: repeat.path, class: "repeat", onclick: () => choose(k) }));
    drawn.querySelector(".measures")?.remove();
    drawn.append(svg("g", { class: "measures" }, svg("g", { "aria-hidden": "true" }, ...shapes)));
    drawn.classList.add("measured");
    for (const [k, choice] of choices.entries()) {
      choice.replaceChildren(...answer.repeats.map((repeat, n) => html("option", { value: n }, repeat.words)));
      choice.onchange = () => put(k, Number(choice.value));
    }
    line.replaceChildren("From ", choices[0], " to ", choices[1], " ", told, html("span", { class: "hint" }, "Choose two, here or on the picture."));
    show();
  }

  // A click chooses one end after the other.
  function choose(number) {
    put(measuring.turn, number);
    measuring.turn = 1 - measuring.turn;
  }

  function put(end, number) {
    measuring.pair[end] = number;
    show();
  }

  async function show() {
    const [from, to] = measuring.pair;
    for (const [k, choice] of choices.entries()) choice.value = String(measuring.pair[k]);
    for (const [k, shape] of shapes.entries()) shape.classList.toggle("chosen", k === from || k === to);
    drawn.querySelector(".measure")?.remove();
    if (from === to) {
      told.textContent = "";
      return;
    }
    const answer = await ask({ from, to });
    if (!answer.line || !isOn() || measuring.pair[0] !== from || measuring.pair[1] !== to) return;
    told.textContent = answer.words;
    drawn.querySelector(".measure")?.remove();
    drawn.querySelector(".measures").append(svg("g", { class: "measure" },
      svg("path", { d: `${answer.line} ${answer.leader}`, class: "case", "stroke-width": 5 }),
      answer.leader ? svg("path", { d: answer.leader, class: "line dotted", "stroke-width": 1.2 }) : null,
      svg("path", { d: answer.line, class: "pointer", "stroke-width": 2 }),
      svg("text", { x: answer.at.x, y: answer.at.y + 5 }, answer.value)));
  }

  function stop() {
    line.hidden = true;
    drawn.querySelector(".measures")?.remove();
    drawn.classList.remove("measured");
  }

  const toggle = button("Measure a gap", () => {
    measuring = isOn() ? null : { at, pair: [0, 1], turn: 0 };
    for (const other of document.querySelectorAll("[data-measures]")) other.refresh();
  }, { "data-measures": true });
  toggle.refresh = () => {
    toggle.setAttribute("aria-pressed", String(isOn()));
    if (isOn()) start();
    else stop();
  };
  toggle.refresh();
  return { toggle, line };
}
