// What is said while the desk works longer than a glance takes: how far it is, and a way to stop it.

import { ask } from "./ask.js";
import { byId } from "./build.js";

const GLANCE_MS = 400;
const AGAIN_MS = 300;

const late = new Set();
let isFollowing = false;

/**
 * Return what a promise brings; where it takes long, the page says so in the meantime. Any question may be watched so:
 * `watched(ask("sheets", { recipe }))`. What `isWanted` says is out of date is watched no longer.
 */
export async function watched(promise, isWanted = () => true) {
  const mine = { isWanted };
  const timer = setTimeout(() => {
    late.add(mine);
    if (!isFollowing) follow();
  }, GLANCE_MS);
  try {
    return await promise;
  } finally {
    clearTimeout(timer);
    late.delete(mine);
    show();
  }
}

function isAtWork() {
  return [...late].some((one) => one.isWanted());
}

async function follow() {
  isFollowing = true;
  show();
  while (isAtWork()) {
    const told = await ask("progress", {});
    if (isAtWork()) show(told);
    await new Promise((resolve) => {
      setTimeout(resolve, AGAIN_MS);
    });
  }
  isFollowing = false;
  late.clear();
  show();
}

// The words are read aloud once; how far it is stands beside them to be looked at.
function show(told = {}) {
  const isOn = isAtWork();
  const words = isOn ? "Working on it" : "";
  if (byId("working").textContent !== words) byId("working").textContent = words;
  byId("done").textContent = isOn ? howFar(told) : "";
  byId("work").classList.toggle("on", isOn);
  byId("stop").hidden = !isOn;
}

function howFar({ done, of, words }) {
  const count = of > 1 ? `: ${done} of ${of}` : "";
  return words ? `${count}, ${words}` : count;
}

byId("stop").addEventListener("click", () => ask("stop", {}));
