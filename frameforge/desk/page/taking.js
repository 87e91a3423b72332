// What goes into the files: each kind a box to tick. All but the guide stand in the recipe, so that a tick is a change.

import { byId, html } from "./build.js";

const KINDS = [["svg", "SVG to cut"], ["dxf", "DXF to cut"], ["png", "picture (PNG)"]];

let hasGuide = false;

/** What is asked for beside what the recipe writes. */
export function besides() {
  return { guide: hasGuide };
}

/** Show what is written; `change(options, leaveOut)` changes the recipe. */
export function showTaking(writes, change) {
  const place = byId("takes");
  const focused = document.activeElement?.dataset?.takes;
  const boxes = [
    ...KINDS.map(([kind, words]) => box(kind, words, writes.formats.includes(kind), () => change(...withKind(writes.formats, kind)), isOnly(writes.formats, kind))),
    box("as_cut", "picture as cut", writes.as_cut, (isOn) => change(...switched("files.as_cut", isOn))),
    box("hand_out", "hand-out to print (PDF)", writes.hand_out, (isOn) => change(...switched("files.hand_out", isOn))),
    box("sheets", "sheets", writes.sheets, (isOn) => (isOn ? change({ "sheets.sheet": writes.sheet }, []) : change({}, ["sheets"])), writes.sheets && !writes.sheets_by),
    box("guide", "guide to cut by hand (PDF)", hasGuide, (isOn) => (hasGuide = isOn)),
  ];
  place.replaceChildren(html("legend", {}, "In the files"), ...boxes);
  if (focused) place.querySelector(`[data-takes="${focused}"]`)?.focus();
}

function box(key, words, isOn, onchange, isFixed = false) {
  const input = html("input", { type: "checkbox", "data-takes": key, checked: isOn, disabled: isFixed, onchange: (event) => onchange(event.target.checked) });
  return html("label", { class: "box" }, input, ` ${words}`);
}

// One kind at least is written.
function isOnly(formats, kind) {
  return formats.length === 1 && formats[0] === kind;
}

function withKind(formats, kind) {
  const now = KINDS.map(([one]) => one).filter((one) => formats.includes(one) !== (one === kind));
  return now.length === KINDS.length ? [{}, ["files.formats"]] : [{ "files.formats": now.join(", ") }, []];
}

function switched(address, isOn) {
  return isOn ? [{ [address]: "yes" }, []] : [{}, [address]];
}
