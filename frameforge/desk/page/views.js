// What the bench shows: the piece, or another way to look at it. Each view makes its own content, anew after a change.

import { figure } from "./bench.js";
import { button, html } from "./build.js";

/** The piece with its findings, as it stands in the sentence. */
function piece(desk) {
  const pieces = desk.pieces();
  const said = desk.notes().length ? [html("ul", { class: "said" }, ...desk.notes().map((line) => html("li", {}, line)))] : [];
  return [...pieces.map((one) => figure(one, desk, pieces.length === 1)), ...said];
}

/** Views in their order: words on their button, and the nodes to show, now or when a question is answered. */
const VIEWS = [{ key: "piece", words: "The piece", nodes: piece }];

export class Views {
  constructor(choice, shown, desk) {
    this.shown = shown;
    this.desk = desk;
    this.key = VIEWS[0].key;
    this.newest = 0;
    this.buttons = new Map(VIEWS.map(({ key, words }) => [key, button(words, () => this.choose(key))]));
    if (VIEWS.length > 1) choice.replaceChildren(...this.buttons.values());
    choice.hidden = VIEWS.length < 2;
  }

  choose(key) {
    this.key = key;
    return this.refresh();
  }

  /** Show the chosen view anew. What an older question brings later is let go. */
  async refresh() {
    const mine = (this.newest += 1);
    for (const [key, made] of this.buttons) made.setAttribute("aria-pressed", String(key === this.key));
    const nodes = VIEWS.find(({ key }) => key === this.key).nodes(this.desk);
    const made = nodes instanceof Promise ? await nodes : nodes;
    if (mine === this.newest && made !== null) this.shown.replaceChildren(...made);
  }
}
