// What a blank opens: its choices, in a panel below the sentence. A choice is taken at once, the panel stays open.

import { blankAt, inRecipe, rowNumber, rowOf } from "./address.js";
import { button, html } from "./build.js";
import { TYPED, field, pick, picks, slider, take } from "./fields.js";
import { fonts } from "./fonts.js";
import { gallery } from "./gallery.js";

/** Return the panel of the blank at an address. `desk` is the page's own. */
export function panel(address, desk) {
  const blank = blankAt(address, desk.at());
  const heading = html("h2", { id: "choices-name" }, blank.label);
  const code = html("code", {}, `in the recipe: ${inRecipe(address, blank)}`);
  const parts = { pick: (...of) => [picks(...of)], text: typed, count: counted, middle, motif: gallery, font: fonts }[blank.kind](address, blank, desk);
  const close = button("Done", () => desk.close());
  return html("div", { role: "group", "aria-labelledby": "choices-name" },
    html("header", {}, heading, code), ...parts, html("div", { class: "tools" }, close));
}

function typed(address, blank, desk) {
  const drop = blank.drop ? [pick(blank.drop, () => desk.blanks()[address] === undefined, () => take(address, blank, desk, null))] : [];
  return [
    field({ label: blank.label, hint: blank.hint, isHeaded: true, now: () => desk.blanks()[address], put: (words) => take(address, blank, desk, words, TYPED) }, desk),
    ...(blank.slide ? [slider(address, blank, desk)] : []), picks(address, blank, desk, drop),
  ];
}

function counted(address, blank, desk) {
  const row = rowOf(address);
  const now = () => Number.parseInt(desk.blanks()[address], 10) || desk.madeRow(rowNumber(row))?.count || 1;
  const set = (count) => desk.change({ [address]: String(Math.max(1, count)) }, desk.isGapStated(row) ? [`${row}gap`] : []);
  return [
    html("div", { class: "picks" }, button("One less", () => set(now() - desk.inTurn(row))), button("One more", () => set(now() + desk.inTurn(row)))),
    near(address, desk, set),
    field({
      label: blank.label, hint: blank.hint, inputmode: "numeric", isHeaded: true,
      now: () => (/^\d+$/.test(desk.blanks()[address] ?? "") ? desk.blanks()[address] : ""), put: (words) => take(address, blank, desk, words, TYPED),
    }, desk),
    picks(address, blank, desk),
  ];
}

// The counts beside the one made that close, with their gaps.
function near(address, desk, set) {
  const shown = html("div", { class: "counts", role: "group", "aria-label": "Counts next to each other that close", "data-refresh": true });
  shown.refresh = () => {
    const made = desk.madeRow(rowNumber(rowOf(address)));
    const counts = made && made.counts.length > 1 ? made.counts : [];
    if (shown.contains(document.activeElement)) return;
    shown.replaceChildren(...counts.map((one) => {
      const choice = button("", () => set(one.count), { "aria-pressed": String(one.count === made.count) });
      choice.append(one.words, html("small", {}, one.gap));
      return choice;
    }));
  };
  shown.refresh();
  return shown;
}

function middle(address, blank, desk) {
  const none = () => !desk.blanks().opening && !desk.blanks().rim;
  const part = (key, label, hint) => field({ label, hint, now: () => desk.blanks()[key], put: (words) => desk.change({ [key]: words }, [], TYPED) }, desk);
  return [
    part("opening", "A hole of", "50mm, or 110x60mm in an oval."),
    part("rim", "Or a rim of", "Width of card left round the hole, the same everywhere."),
    html("div", { class: "picks" }, pick("no hole in the middle", none, () => desk.change({}, ["opening", "rim"]))),
  ];
}
