// The sentence on the page, the pieces to choose from, and the choices of the blank that is open.

import { countOf } from "./address.js";
import { button, byId } from "./build.js";
import { panel } from "./choices.js";
import { Sentence } from "./sentence.js";

export class Saying {
  constructor(desk) {
    this.desk = desk;
    this.sentence = new Sentence(desk, (address, isSure) => this.openBlank(address, isSure));
  }

  get open() {
    return this.sentence.open;
  }

  /** Show the sentence anew; focus stays where it is, on a blank by its address. */
  show() {
    const { desk } = this;
    const focused = document.activeElement;
    const mark = focused?.dataset?.blank ?? null;
    const id = focused?.id;
    this.pieces();
    byId("name").replaceChildren(this.sentence.blank("name", desk.title()));
    byId("sentence").replaceChildren(...this.sentence.nodes());
    for (const made of byId("choices").querySelectorAll("[data-refresh]")) made.refresh?.();
    if (focused?.isConnected) return;
    if (mark !== null) this.button(mark)?.focus();
    else if (id) byId(id)?.focus();
  }

  /** Open the choices of a blank, or none; a blank of what is no longer said opens nothing. */
  openBlank(address, isSure = false) {
    const before = this.sentence.open;
    const isThere = address === null || isSure || this.isSaid(address);
    this.sentence.open = isThere ? address : null;
    const choices = byId("choices");
    choices.hidden = this.open === null;
    choices.replaceChildren(...(this.open === null ? [] : [panel(this.open, this.desk)]));
    this.show();
    if (this.open !== null) {
      choices.querySelector("input:not([type=file]), button")?.focus();
      choices.scrollIntoView({ block: "nearest" });
    } else if (before !== null) this.button(before)?.focus();
  }

  /** Whether the table of an address is still there: the third hole of two is not. */
  isSaid(address) {
    const [table, number] = address.split(".");
    return !/^\d+$/.test(number ?? "") || table === "motif" || Number(number) < countOf(table, this.desk.blanks());
  }

  /** Close the choices of a blank that is no longer said. */
  tidy() {
    if (this.open !== null && !this.isSaid(this.open) && !this.sentence.isAsked(this.open.split(".").slice(0, 2).join("."))) this.openBlank(null);
  }

  button(address) {
    return document.querySelector(`[data-blank="${CSS.escape(address)}"]`);
  }

  pieces() {
    const all = this.desk.sentences();
    byId("pieces").hidden = all.length < 2;
    byId("pieces").replaceChildren(...(all.length < 2 ? [] : all.map(({ at }) => button(this.desk.title(at), () => this.desk.choose(at), { id: `of-${at}`, "aria-pressed": String(at === this.desk.at()) }))));
  }
}
