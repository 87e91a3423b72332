// A piece taken up: by pointer, by touch, by keys. It follows at once; how near it comes is asked as it goes.

const FAR_PX = 3;
const REST_MS = 500;
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export class Mover {
  constructor(bench) {
    this.bench = bench;
    this.drag = null;
    this.rest = 0;
    this.resting = null;
    this.wanted = null;
    this.isAsking = false;
  }

  isBusy() {
    return this.drag !== null || this.resting !== null;
  }

  watch(node, row) {
    node.addEventListener("pointerdown", (event) => this.down(event, node, row));
    node.addEventListener("pointermove", (event) => this.along(event));
    node.addEventListener("pointerup", (event) => this.up(event));
    node.addEventListener("pointercancel", () => this.letGo());
    node.addEventListener("touchstart", (event) => {
      if (node.classList.contains("chosen") && event.cancelable) event.preventDefault();
    }, { passive: false });
    node.addEventListener("click", () => this.bench.choose(row));
    node.addEventListener("keydown", (event) => this.key(event, row));
    node.addEventListener("focus", () => {
      if (!node.classList.contains("chosen")) this.bench.choose(row);
    });
    node.addEventListener("blur", () => this.settle());
  }

  // By touch only the chosen piece is dragged: elsewhere a finger scrolls the page.
  down(event, node, row) {
    if (event.button !== 0 || (event.pointerType === "touch" && !node.classList.contains("chosen"))) return;
    this.settle();
    const piece = this.bench.pieces.get(row);
    node.setPointerCapture(event.pointerId);
    this.drag = { row, node, id: event.pointerId, from: [event.clientX, event.clientY], start: { ...piece }, at: { ...piece }, isFar: false };
    this.bench.choose(row);
  }

  along(event) {
    const { drag } = this;
    if (!drag || event.pointerId !== drag.id) return;
    const [dx, dy] = [event.clientX - drag.from[0], event.clientY - drag.from[1]];
    if (!drag.isFar && Math.hypot(dx, dy) < FAR_PX) return;
    if (!drag.isFar) {
      drag.isFar = true;
      drag.node.classList.add("held");
      drag.node.ownerSVGElement.classList.add("lifting");
      // On top of the others; put there anew, it has to be taken hold of anew.
      drag.node.parentNode.append(drag.node);
      drag.node.setPointerCapture(drag.id);
    }
    const times = this.times(drag.start.sheet);
    const { x, y } = drag.start;
    this.bench.put({ ...drag.start, x: x + dx / times, y: y + dy / times });
    drag.at = this.where(event, drag, { x: x + dx / times, y: y + dy / times });
    this.ask(drag.at);
  }

  up(event) {
    const { drag } = this;
    if (!drag || event.pointerId !== drag.id) return;
    this.letGo();
    if (!drag.isFar) return;
    const { row, sheet, x, y, turn } = drag.at;
    if (sheet === drag.start.sheet) Object.assign(this.bench.pieces.get(row), { x, y });
    this.bench.commit({ row, sheet, x, y, turn });
  }

  letGo() {
    if (!this.drag) return;
    this.drag.node.classList.remove("held");
    this.drag.node.ownerSVGElement?.classList.remove("lifting");
    this.drag = null;
    this.wanted = null;
    this.bench.clearNear();
  }

  /** How many pixels of the screen a pixel of the drawing takes. */
  times(sheet) {
    return this.bench.sheets[sheet].getBoundingClientRect().width / this.bench.answer.sheets[sheet].width;
  }

  // On which sheet the pointer is, and where the piece then lies on it; on none it stays on its own.
  where(event, drag, { x, y }) {
    const { start } = drag;
    const { sheets } = this.bench.answer;
    const own = this.bench.sheets[start.sheet].getBoundingClientRect();
    const times = this.times(start.sheet);
    const over = this.bench.sheets.findIndex((node, at) => {
      const box = node.getBoundingClientRect();
      const isOver = event.clientX >= box.left && event.clientX <= box.right && event.clientY >= box.top && event.clientY <= box.bottom;
      return isOver && sheets[at].group === sheets[start.sheet].group;
    });
    if (over < 0 || over === start.sheet) return { ...start, x, y };
    const box = this.bench.sheets[over].getBoundingClientRect();
    return { ...start, sheet: over, x: (own.left - box.left) / times + x, y: (own.top - box.top) / times + y };
  }

  // One question at a time; the newest place is asked next, those before it are let go.
  async ask(place) {
    this.wanted = place;
    if (this.isAsking) return;
    this.isAsking = true;
    while (this.wanted) {
      const { row, sheet, x, y, turn } = this.wanted;
      this.wanted = null;
      const answer = await this.bench.near({ row, sheet, x, y, turn });
      if (this.isBusy()) this.bench.showNear(row, sheet, answer);
    }
    this.isAsking = false;
  }

  key(event, row) {
    const step = this.bench.answer[event.shiftKey ? "stride" : "step"];
    const way = ARROWS[event.key];
    if (way && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      const piece = this.bench.pieces.get(row);
      this.place(row, { x: piece.x + way[0] * step, y: piece.y + way[1] * step });
    } else if (event.key.toLowerCase() === "r" && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      this.turn(row, (event.shiftKey ? -1 : 1) * this.bench.turnStep());
    } else if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      this.settle();
      this.bench.choose(row);
    }
  }

  turn(row, degrees, isAtOnce = false) {
    if (this.bench.answer.turn_step === 0) {
      this.bench.say("Pieces may not be turned: change that in the sentence above.", false);
      return;
    }
    const piece = this.bench.pieces.get(row);
    this.place(row, { turn: (((piece.turn + degrees) % 360) + 360) % 360 });
    if (isAtOnce) this.settle();
  }

  // Moves by key are shown at once, and taken over together when the keys rest.
  place(row, where) {
    if (this.resting !== null && this.resting !== row) this.settle();
    const piece = Object.assign(this.bench.pieces.get(row), where);
    this.resting = row;
    this.bench.put(piece);
    this.ask({ ...piece });
    clearTimeout(this.rest);
    this.rest = setTimeout(() => this.settle(), REST_MS);
  }

  settle() {
    if (this.resting === null) return;
    clearTimeout(this.rest);
    const { row, sheet, x, y, turn } = this.bench.pieces.get(this.resting);
    this.resting = null;
    this.wanted = null;
    this.bench.clearNear();
    this.bench.commit({ row, sheet, x, y, turn });
  }
}
