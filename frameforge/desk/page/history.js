// The recipes that were, one after the other: a change is a new one, undo and redo go along them.

const MOST = 200;

export class History {
  constructor(first) {
    this.texts = [first];
    this.at = 0;
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
  }

  move(steps) {
    this.slide = null;
    this.at = Math.min(Math.max(this.at + steps, 0), this.texts.length - 1);
    return this.now;
  }
}
