// The recipes that were, one after the other: a change is a new one, undo and redo go along them.

const MOST = 200;

const KEPT = "frameforge-history";
const MOST_KEPT = 400000;

/** What was kept of this tab, so that a page that is loaded again goes on; nothing where it cannot be read. */
function kept() {
  try {
    const { texts, at } = JSON.parse(sessionStorage.getItem(KEPT));
    return texts.every((text) => typeof text === "string") && typeof texts[at] === "string" ? { texts, at } : null;
  } catch {
    return null;
  }
}

export class History {
  constructor(first) {
    const { texts, at } = kept() ?? { texts: [first], at: 0 };
    this.texts = texts;
    this.at = at;
  }

  get now() {
    return this.texts[this.at];
  }

  get canUndo() {
    return this.at > 0;
  }

  get canRedo() {
    return this.at < this.texts.length - 1;
  }

  /** Add a recipe. Those of one `slide` after the other count as one change, however long it was. */
  add(text, slide = null) {
    if (text === this.now) return;
    const isOn = slide !== null && slide === this.slide && this.at === this.texts.length - 1 && this.at > 0;
    this.texts = [...this.texts.slice(0, this.at + (isOn ? 0 : 1)), text].slice(-MOST);
    this.at = this.texts.length - 1;
    this.slide = slide;
    this.keep();
  }

  move(steps) {
    this.slide = null;
    this.at = Math.min(Math.max(this.at + steps, 0), this.texts.length - 1);
    this.keep();
    return this.now;
  }

  /** Keep the one that is shown and those around it, as far as they are no more than a tab should be asked to keep. */
  keep() {
    let [from, to, room] = [this.at, this.at + 1, MOST_KEPT - this.now.length];
    while (from > 0 && this.texts[from - 1].length <= room) room -= this.texts[(from -= 1)].length;
    while (to < this.texts.length && this.texts[to].length <= room) room -= this.texts[(to += 1) - 1].length;
    try {
      sessionStorage.setItem(KEPT, JSON.stringify({ texts: this.texts.slice(from, to), at: this.at - from }));
    } catch {
      sessionStorage.removeItem(KEPT);
    }
  }
}
