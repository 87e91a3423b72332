// Going to a place on a drawing: it stands large in the middle, with a way to the next one and back to the whole.

import { button, html, svg } from "./build.js";

const RING = 5;
const NUMBER = 15;

/** Ways over one or more drawings that show the same: `go(places, words)` goes to the first place of some. */
export class Near {
  constructor(drawings) {
    this.drawings = drawings;
    this.wholes = drawings.map((drawn) => drawn.getAttribute("viewBox"));
    this.places = [];
    this.told = html("span", { class: "hint", role: "status" });
    this.next = button("Next place", () => this.show((this.at + 1) % this.places.length));
    this.bar = html("div", { class: "tools near-bar", hidden: true }, button("The whole piece", () => this.whole()), this.next, this.told);
  }

  go(places, words) {
    // Wherever on its piece the focus is, Escape goes back.
    this.escape ??= this.bar.closest("figure").addEventListener("keydown", (event) => event.key === "Escape" && this.whole()) ?? true;
    this.places = places;
    this.words = words;
    if (places.length) this.show(0);
    else this.whole();
  }

  show(at) {
    this.at = at;
    const { x, y, r, times, view } = this.places[at];
    for (const drawn of this.drawings) {
      drawn.querySelector(".spot")?.remove();
      drawn.setAttribute("viewBox", view.join(" "));
      drawn.classList.add("near");
      const out = r + 1 + RING / times;
      drawn.append(svg("g", { class: "spot" },
        svg("circle", { class: "spot-ring", cx: x, cy: y, r: out }),
        svg("text", { x, y: y - out - RING / times, "font-size": NUMBER / times, "stroke-width": 4 / times }, this.words)));
    }
    const many = this.places.length;
    this.told.textContent = many > 1 ? `Place ${at + 1} of ${many}, ${Math.round(times)} x as large` : `${Math.round(times)} x as large`;
    this.next.hidden = many < 2;
    this.bar.hidden = false;
  }

  /** Show the whole drawing again; what is chosen stays pointed at. */
  whole() {
    const isIn = this.bar.contains(document.activeElement);
    for (const [k, drawn] of this.drawings.entries()) {
      drawn.setAttribute("viewBox", this.wholes[k]);
      drawn.classList.remove("near");
      drawn.querySelector(".spot")?.remove();
    }
    this.bar.hidden = true;
    if (isIn) this.onwhole?.();
  }
}
