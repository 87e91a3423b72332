// Where there is room, what a blank opens stands beside the sentence, above the recipe, so that the piece stays in sight.

import { byId } from "./build.js";

const wide = matchMedia("(min-width: 1180px)");

function place() {
  const focused = document.activeElement;
  if (wide.matches) byId("beside").prepend(byId("choices"));
  else byId("bench").before(byId("choices"));
  focused?.focus({ preventScroll: true });
}

place();
wide.addEventListener("change", place);
