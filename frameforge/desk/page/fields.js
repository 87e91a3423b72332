// What a choice is made with: buttons, a field to type in, a slider. What was typed and does not do is said right there.

import { rowNumber, rowOf } from "./address.js";
import { button, html } from "./build.js";
import { shown } from "./words.js";

/** How a change was made that is answered at its blank. */
export const TYPED = { isTyped: true };

/** Put a choice in; null leaves the key out. Resolves to what is said against it, null for nothing. */
export function take(address, blank, desk, chosen, how = {}) {
  if (chosen === null) return desk.change({}, [address]);
  const other = blank.instead ? `${rowOf(address)}${blank.instead}` : null;
  return desk.change({ [address]: blank.many && chosen !== true ? [chosen] : chosen }, other in desk.blanks() ? [other] : [], how);
}

/** A button that shows whether it is the one chosen. */
export function pick(words, isChosen, onclick) {
  const made = button(words, onclick, { "data-refresh": true });
  made.refresh = () => made.setAttribute("aria-pressed", String(isChosen()));
  made.refresh();
  return made;
}

/** The buttons of a blank's picks, and others behind them. */
export function picks(address, blank, desk, others = []) {
  const isNone = (one) => one === null || (blank.names?.[one] ?? shown(String(one))) === blank.none;
  const isChosen = (one) => () => {
    const value = desk.blanks()[address];
    return value === undefined ? isNone(one) && !others.length : value === (one === true ? "yes" : one);
  };
  const made = (blank.picks ?? []).map(([one, words]) => pick(words, isChosen(one), () => take(address, blank, desk, one)));
  return html("div", { class: "picks" }, ...made, ...others);
}

let fields = 0;

/** A field below a heading that says its label (`isHeaded`), or with it: `now()` is what stands in the blank, `put(words)` takes what was typed and resolves to what is said of it. */
export function field({ label, hint, now, put, inputmode, isHeaded = false }, desk) {
  const id = `said-${(fields += 1)}`;
  const said = html("div", { id, class: "fault", role: "alert" });
  const input = html("input", { type: "text", value: now() ?? "", autocomplete: "off", autocapitalize: "off", spellcheck: "false", inputmode, "aria-label": isHeaded ? [label, hint].filter(Boolean).join(". ") : null, "data-refresh": true });
  const say = (lines) => {
    said.replaceChildren(...desk.message(lines ?? []));
    if (lines) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
    if (lines) input.setAttribute("aria-describedby", id);
    else input.removeAttribute("aria-describedby");
  };
  const submit = async (event) => {
    event.preventDefault();
    if (input.value.trim()) say(await put(input.value.trim()));
  };
  // What stands in the blank, unless somebody is typing, or has typed what does not do.
  input.refresh = () => {
    if (document.activeElement !== input && !input.hasAttribute("aria-invalid")) input.value = now() ?? "";
  };
  input.addEventListener("input", () => say(null));
  return html("form", { class: "asked", onsubmit: submit },
    html("label", {}, isHeaded && hint ? hint : [label, hint].filter(Boolean).join(". "), input), html("button", { type: "submit" }, "Put it in"), said);
}

// What a slider lets go: a count that was stated would hold against every gap but one.
function instead(address, blank, desk) {
  const other = blank.slide.lets ? `${rowOf(address)}${blank.slide.lets}` : null;
  return /^\d+$/.test(desk.blanks()[other] ?? "") ? [other] : [];
}

/** A slider for a quantity that is continuous. Every move is a change, of which only the newest is worked at. */
export function slider(address, blank, desk) {
  const output = html("output", {});
  const input = html("input", { type: "range", "aria-label": blank.label, "data-refresh": true });
  const place = html("div", { class: "slide" }, input, output);
  const unit = () => blank.slide.unit ?? desk.unitOf(address);
  // An oval keeps the proportion that it had when it was taken hold of.
  let times = null;
  const typed = () => `${input.value}${times ? `x${Number((input.value * times).toFixed(2))}` : ""}${unit()}`;
  const words = () => shown(typed());
  input.refresh = () => {
    const now = desk.measured(address, rowNumber(rowOf(address)));
    place.hidden = now === null;
    if (now === null || document.activeElement === input) return;
    times = desk.timesOf(address);
    const { least, most, step } = unit() === "in" ? blank.slide.in : blank.slide;
    Object.assign(input, { min: Math.min(least, now), max: Math.max(most, now), step });
    input.value = String(now);
    output.textContent = words();
  };
  input.addEventListener("input", () => {
    output.textContent = words();
    desk.change({ [address]: typed() }, instead(address, blank, desk), { slide: address });
  });
  input.refresh();
  return place;
}
