// The fonts there are for words, each with the words set in it; the maker's own are handed in and lie in her folder.

import { button, html, svg } from "./build.js";
import { take } from "./fields.js";

/** Return the choices of a font. */
export function fonts(address, blank, desk) {
  const grid = html("div", { class: "motifs fonts", "data-refresh": true });
  const show = async () => {
    const words = desk.blanks()[address.replace(/font$/, "words")] ?? "";
    const answer = await desk.ask("fonts", { words });
    grid.replaceChildren(...(answer.fonts ?? []).map((font) => tile(font, address, blank, desk)));
  };
  grid.refresh = () => grid.querySelectorAll("button").forEach((one) => one.refresh());
  grid.again = show;
  show();
  return [grid, handedIn(desk)];
}

function tile(font, address, blank, desk) {
  const made = button("", () => take(address, blank, desk, font.name));
  made.append(
    svg("svg", { viewBox: `0 0 ${font.width} ${font.height}`, "aria-hidden": "true" }, svg("path", { d: font.path, class: "letters" })),
    font.words,
    html("small", {}, font.missing ? `has no ${font.missing}` : (font.name ?? "thin for lines, bold where it is cut")));
  made.refresh = () => made.setAttribute("aria-pressed", String((desk.blanks()[address] ?? null) === font.name));
  made.refresh();
  return made;
}

function handedIn(desk) {
  const input = html("input", { type: "file", accept: ".ttf,.otf" });
  input.addEventListener("change", async () => {
    if (input.files.length) await desk.font(input.files[0]);
    input.value = "";
  });
  return html("div", { class: "tools" }, html("label", { class: "file" }, "Your own font (TTF or OTF) ", input), html("span", { class: "hint" }, "or drop it anywhere on this page. It is put into your folder, where the recipe finds it."));
}
