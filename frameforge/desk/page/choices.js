// What a blank opens: its choices, in a panel below the sentence. A choice is taken at once, the panel stays open.

import { button, html, svg } from "./build.js";
import { BLANKS, shown } from "./words.js";

/** Return the panel of one blank. `desk` has blanks, motifs(), change(options, leaveOut), drawing(file), close(). */
export function panel(key, desk) {
  const blank = BLANKS[key];
  const heading = html("h2", { id: "choices-name" }, blank.label);
  const inRecipe = html("code", {}, `in the recipe: ${blank.key ?? key}`);
  const parts = { pick: picks, text: typed, count: counted, middle, motif: gallery }[blank.kind](key, blank, desk);
  const close = button("Done", () => desk.close());
  return html("div", { role: "group", "aria-labelledby": "choices-name" },
    html("header", {}, heading, inRecipe), ...parts, html("div", { class: "tools" }, close));
}

function value(key, desk) {
  return desk.blanks()[key];
}

function take(key, desk, chosen) {
  const blank = BLANKS[key];
  if (chosen === null) desk.change({}, [key]);
  else desk.change({ [key]: blank.many ? [chosen] : chosen }, []);
}

function pick(words, isChosen, onclick) {
  const made = button(words, onclick);
  made.refresh = () => made.setAttribute("aria-pressed", String(isChosen()));
  made.refresh();
  return made;
}

function picks(key, blank, desk) {
  const chosen = () => value(key, desk) ?? (blank.picks.some(([one]) => one === null) ? null : undefined);
  const isChosen = (one) => () => chosen() === (one === true ? "yes" : one) || (chosen() === undefined && (blank.names?.[one] ?? shown(one ?? "")) === blank.none);
  const made = (blank.picks ?? []).map(([one, words]) => pick(words, isChosen(one), () => take(key, desk, one)));
  return [html("div", { class: "picks" }, ...made)];
}

function field(label, start, hint, onchange, attributes = {}) {
  const input = html("input", { type: "text", value: start ?? "", autocomplete: "off", autocapitalize: "off", ...attributes });
  const submit = (event) => {
    event.preventDefault();
    if (input.value.trim()) onchange(input.value.trim());
  };
  return html("form", { class: "asked", onsubmit: submit },
    html("label", {}, hint ? `${label}. ${hint}` : label, input), html("button", { type: "submit" }, "Put it in"));
}

function typed(key, blank, desk) {
  const offered = blank.picks ? picks(key, blank, desk) : [];
  const drop = blank.drop ? [html("div", { class: "picks" }, pick(blank.drop, () => value(key, desk) === undefined, () => take(key, desk, null)))] : [];
  return [field(blank.label, value(key, desk), blank.hint, (words) => take(key, desk, words)), ...offered, ...drop];
}

function counted(key, blank, desk) {
  const now = () => Number.parseInt(value(key, desk), 10) || desk.madeCount();
  const step = (by) => () => desk.change({ count: String(Math.max(1, now() + by)) }, desk.isGapStated() ? ["gap"] : []);
  return [
    html("div", { class: "picks" }, button("One less", step(-1)), button("One more", step(1))),
    field(blank.label, /^\d+$/.test(value(key, desk) ?? "") ? value(key, desk) : "", blank.hint, (words) => take(key, desk, words), { inputmode: "numeric" }),
    ...picks(key, blank, desk),
  ];
}

function middle(key, blank, desk) {
  const none = () => !value("opening", desk) && !value("rim", desk);
  return [
    field("A hole of", value("opening", desk), "50mm, or 110x60mm in an oval.", (words) => desk.change({ opening: words }, [])),
    field("Or a rim of", value("rim", desk), "Width of card left round the hole, the same everywhere.", (words) => desk.change({ rim: words }, [])),
    html("div", { class: "picks" }, pick("no hole in the middle", none, () => desk.change({}, ["opening", "rim"]))),
  ];
}

function picture(motif) {
  const cut = motif.cut_away ? svg("path", { d: motif.cut_away, class: "bench-line", "stroke-dasharray": "4 3" }) : null;
  const card = motif.join ? svg("path", { d: motif.join, class: "edge", fill: "#74844A" }) : null;
  const window_ = motif.window ? svg("path", { d: motif.window, class: "edge", fill: "var(--bench)" }) : null;
  return svg("svg", { viewBox: `0 0 ${motif.width} ${motif.height}`, "aria-hidden": "true" }, cut, card, window_);
}

function gallery(key, blank, desk) {
  const grid = html("div", { class: "motifs" });
  const show = (motifs) => grid.replaceChildren(...motifs.map((motif) => {
    const made = button("", () => take(key, desk, motif.name));
    made.append(picture(motif), motif.words, html("small", {}, motif.foot));
    made.refresh = () => made.setAttribute("aria-pressed", String(value(key, desk) === motif.name));
    made.refresh();
    return made;
  }));
  desk.motifs().then(show);
  const input = html("input", { type: "file", accept: ".svg" });
  input.addEventListener("change", async () => {
    if (input.files.length) show(await desk.drawing(input.files[0]));
    input.value = "";
  });
  const own = html("label", { class: "file" }, "Your own drawing (SVG) ", input);
  return [grid, html("div", { class: "tools" }, own, html("span", { class: "hint" }, "or drop it anywhere on this page"))];
}
