// The motifs with their pictures, the maker's own among them; several of them in turn make a pattern.

import { blankAt, rowOf } from "./address.js";
import { button, html, svg } from "./build.js";
import { TYPED, field, pick, picks, take } from "./fields.js";
import { shown } from "./words.js";

function picture(motif) {
  const cut = motif.cut_away ? svg("path", { d: motif.cut_away, class: "bench-line", "stroke-dasharray": "4 3" }) : null;
  const card = motif.join ? svg("path", { d: motif.join, class: "edge", fill: "#74844A" }) : null;
  const window_ = motif.window ? svg("path", { d: motif.window, class: "edge", fill: "var(--bench)" }) : null;
  return svg("svg", { viewBox: `0 0 ${motif.width} ${motif.height}`, "aria-hidden": "true" }, cut, card, window_);
}

/** Return the choices of a motif: of a row, of one place in its pattern, or of what fills the rest. */
export function gallery(address, blank, desk) {
  const grid = html("div", { class: "motifs", "data-refresh": true });
  const turns = /(^|\.)motif$/.test(address) ? pattern(address, desk) : null;
  const own = html("div", { class: "tools" });
  const chosen = () => (turns ? turns.chosen() : desk.blanks()[address]);
  const put = (motif) => (turns ? turns.put(motif.name, levelled(motif)) : take(address, blank, desk, motif.name));
  // An edge made level goes with corner motifs alone.
  const level = `${rowOf(address)}between`;
  const levelled = (motif) => (!motif.is_corner && desk.blanks()[level] === "level" ? [level] : []);
  const show = async () => {
    const motifs = await desk.motifs();
    const fits = (motif) => !motif.is_corner || cornersGo(address, desk);
    const made = motifs.filter((motif) => fits(motif) || chosen() === motif.name).map((motif) => tile(motif, chosen, put));
    grid.replaceChildren(...made);
    if (made.length < motifs.length) grid.append(html("p", { class: "hint" }, "Corner motifs go out of an edge or into an opening, and are not shown here."));
    own.replaceChildren(handedIn(desk, show), ...desk.drawings().map((name) => button(`Take ${shown(name)} off the list`, async () => {
      if ((await desk.change({}, [`drawing.${name}`])) === null) show();
    })));
  };
  show();
  grid.refresh = () => grid.querySelectorAll("button").forEach((one) => one.refresh());
  const drop = blank.drop ? html("div", { class: "picks" }, pick(blank.drop, () => desk.blanks()[address] === undefined, () => take(address, blank, desk, null))) : null;
  return [turns?.node, grid, drop, own].filter(Boolean);
}

function tile(motif, chosen, put) {
  const made = button("", () => put(motif));
  made.append(picture(motif), motif.words, html("small", {}, motif.foot));
  made.refresh = () => made.setAttribute("aria-pressed", String(chosen() === motif.name));
  made.refresh();
  return made;
}

// A corner motif takes the place of a bit of the edge it stands on: it goes out of one, or into an opening.
function cornersGo(address, desk) {
  const of = (key) => desk.blanks()[`${rowOf(address)}${key}`];
  return !["window", "across"].includes(of("place"));
}

function handedIn(desk, show) {
  const input = html("input", { type: "file", accept: ".svg", multiple: true });
  input.addEventListener("change", async () => {
    for (const file of input.files) await desk.drawing(file);
    input.value = "";
    show();
  });
  return html("div", {}, html("label", { class: "file" }, "Your own drawing (SVG) ", input), " ", html("span", { class: "hint" }, "or drop it anywhere on this page"));
}

// Several motifs in turn: which of them is being chosen, how it differs, another one, one less.
function pattern(address, desk) {
  let place = 0;
  let told = null;
  const heads = html("div", { class: "picks" });
  const differing = html("div", {});
  const names = () => (desk.blanks()[address] ?? "").split(", ").filter(Boolean);
  const choose = (one) => {
    place = one;
    show();
  };
  const add = async () => {
    const many = names().length;
    if ((await desk.change({ [`${address}.${many}`]: names()[0] }, [])) === null) choose(many);
  };
  const remove = async () => {
    const gone = place;
    place = Math.max(0, place - 1);
    await desk.restructure({}, [`${address}.${gone}`]);
    show();
  };
  const show = () => {
    const all = names();
    place = Math.min(place, Math.max(all.length - 1, 0));
    const isMany = all.length > 1;
    const each = isMany ? all.map((name, at) => button(`${at + 1}: ${shown(name)}`, () => choose(at), { "aria-pressed": String(at === place) })) : [];
    const more = all.length ? [button("Another motif in turn", add)] : [];
    if (isMany) more.push(button(`Take ${place + 1} out of the turn`, remove));
    const focused = [...heads.children].indexOf(document.activeElement);
    heads.replaceChildren(...each, ...more);
    heads.children[focused]?.focus();
    differing.replaceChildren(...(isMany ? differences() : []));
    told = `${place} ${all}`;
    node.parentElement?.querySelector(".motifs")?.refresh();
  };
  const differences = () => ["scale", "lean", "mirror"].flatMap((key) => {
    const inner = `${address}.${place}.${key}`;
    const blank = blankAt(inner, desk.at());
    if (blank.kind === "pick") return [picks(inner, blank, desk)];
    return [field({ label: blank.label, hint: blank.hint, now: () => desk.blanks()[inner], put: (words) => take(inner, blank, desk, words, TYPED) }, desk)];
  });
  const node = html("div", { class: "turns", "data-refresh": true }, heads, differing);
  node.refresh = () => {
    if (told !== `${place} ${names()}`) show();
  };
  show();
  return {
    node,
    chosen: () => names()[place],
    put: (name, without) => desk.change(names().length > 1 ? { [`${address}.${place}`]: name } : { [address]: [name] }, without),
  };
}
