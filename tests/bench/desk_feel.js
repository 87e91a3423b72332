// Run in the page: makes one change after another, as a hand does, and times each from the change to what is seen of it.
async ({ text, changes, empties }) => {
  const { ask } = await import("/page/ask.js");
  const shown = document.getElementById("shown");
  const painted = () => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));
  const until = (holds, what) => new Promise((resolve, fail) => {
    if (holds()) {
      resolve();
      return;
    }
    setTimeout(() => fail(new Error(`waited in vain for ${what}: ${document.getElementById("refused").textContent}`)), 20000);
    const watch = new MutationObserver(() => {
      if (!holds()) return;
      watch.disconnect();
      resolve();
    });
    watch.observe(document.body, { childList: true, subtree: true, attributes: true });
  });
  const isJudged = () => shown.querySelector("figure:not(.unjudged)") !== null;
  const drawn = () => shown.querySelector("figure > svg");

  await until(isJudged, "the findings of what stands there first");
  const recipe = document.getElementById("recipe-text");
  const before = drawn();
  recipe.value = text;
  recipe.dispatchEvent(new Event("input", { bubbles: true }));
  await until(() => drawn() !== before && isJudged(), text);

  const empty = [];
  for (let k = 0; k < empties; k += 1) {
    const began = performance.now();
    await ask("progress", {});
    empty.push(performance.now() - began);
  }
  const pictures = [];
  const findings = [];
  for (const [blank, value] of changes) {
    const open = document.querySelector(`[data-blank="${blank}"]`);
    if (open.getAttribute("aria-expanded") !== "true") open.click();
    const form = document.querySelector("#choices form");
    form.querySelector("input").value = value;
    const old = drawn();
    const began = performance.now();
    form.requestSubmit();
    await until(() => drawn() !== old, `${blank} ${value}`);
    await painted();
    const seen = performance.now();
    pictures.push(seen - began);
    await until(isJudged, "findings");
    await painted();
    findings.push(performance.now() - seen);
  }
  return { empty, pictures, findings };
}
