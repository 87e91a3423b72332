// While a button is pressed nothing is drawn anew: it would be gone before it is let go, and the click with it.

const PRESSED = "button, [role=button], a, label";

let presses = 0;
let isHeld = false;
let waiting = [];

/** Resolves once no button is held down: at once where none is. */
export async function letGo() {
  if (isHeld) await new Promise((resolve) => waiting.push(resolve));
}

function held(event) {
  if (!event.target.closest?.(PRESSED)) return;
  presses += 1;
  isHeld = true;
}

// The click follows in the same turn: what waited goes on after it, unless the next press came first.
function released() {
  const mine = presses;
  setTimeout(() => {
    if (mine !== presses) return;
    isHeld = false;
    for (const goOn of waiting.splice(0)) goOn();
  });
}

// A space presses a button until its key is let go; what is let go outside of the page is told by none of these but the last two.
addEventListener("pointerdown", held, true);
addEventListener("keydown", (event) => event.key === " " && held(event), true);
for (const kind of ["pointerup", "pointercancel", "keyup", "blur"]) addEventListener(kind, released, true);
addEventListener("pointermove", (event) => isHeld && event.buttons === 0 && released(), true);
