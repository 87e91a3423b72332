// What the bench shows: the piece, or another way to look at it. Each view makes its own content, anew after a change.

import { asCut } from "./as_cut.js";
import { figure } from "./bench.js";
import { button, html } from "./build.js";
import { showsDimensions, withDimensions } from "./dimensions.js";
import { canBeMended, mended } from "./mended.js";
import { letGo } from "./press.js";
import { onTheSheet } from "./sheets.js";
import { sizes } from "./sizes.js";

/** The piece with its findings, as it stands in the sentence; with its dimensions where they are asked for. */
function piece(desk) {
  return showsDimensions() ? withDimensions(desk).then((pieces) => pieces && figures(pieces, desk)) : figures(desk.pieces(), desk);
}

function figures(pieces, desk) {
  const said = desk.notes().length ? [html("ul", { class: "said" }, ...desk.notes().map((line) => html("li", {}, line)))] : [];
  return [...pieces.map((one, at) => figure(one, desk, pieces.length === 1, at)), ...said];
}

/** Views in their order: words on their button, and the nodes to show, now or when a question is answered. Some are only
 * there when there is something to see. */
const VIEWS = [
  { key: "piece", words: "The piece", nodes: piece, isJudged: true },
  { key: "as-cut", words: "As cut", nodes: asCut },
  { key: "mended", words: "Mended", nodes: mended, isThere: canBeMended },
  { key: "sizes", words: "Sizes", nodes: sizes },
  { key: "sheets", words: "On the sheet", nodes: onTheSheet },
];

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

  /** Show what is found in the pieces, which are as they were. */
  judge() {
    const view = VIEWS.find(({ key }) => key === this.key);
    if (view.isJudged || view.isThere?.(this.desk) === false) this.refresh();
    else this.offer();
  }

  /** Show the chosen view anew. What an older question brings later is let go. */
  async refresh() {
    const mine = (this.newest += 1);
    this.offer();
    const nodes = VIEWS.find(({ key }) => key === this.key).nodes(this.desk);
    const made = nodes instanceof Promise ? await nodes : nodes;
    if (nodes instanceof Promise) await letGo();
    if (mine !== this.newest || made === null) return;
    const focused = this.focused();
    this.shown.replaceChildren(...made);
    focused?.();
  }

  // The views that there are, the one that is shown marked.
  offer() {
    const there = VIEWS.filter(({ isThere }) => !isThere || isThere(this.desk)).map(({ key }) => key);
    if (!there.includes(this.key)) this.key = VIEWS[0].key;
    for (const [key, made] of this.buttons) {
      made.setAttribute("aria-pressed", String(key === this.key));
      made.hidden = !there.includes(key);
    }
  }

  // What has the focus keeps it when it is made anew: it is known by what it is called.
  focused() {
    const old = document.activeElement;
    if (!this.shown.contains(old)) return null;
    const called = (node) => `${node.localName} ${node.getAttribute("aria-label") ?? node.textContent}`;
    const name = called(old);
    return () => [...this.shown.querySelectorAll(old.localName)].find((node) => called(node) === name)?.focus({ preventScroll: true });
  }
}
