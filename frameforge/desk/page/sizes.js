// Sizes beside the present one with the counts that go round each: a plain table, in which a cell is chosen by a click.

import { button, html } from "./build.js";

let step = null;
let row = 0;

/** Return the chart of the chosen piece's row; null where a newer one was asked for. */
export async function sizes(desk) {
  const made = desk.pieces().find((piece) => piece.of === desk.at());
  const settled = made?.settled ?? [];
  row = Math.min(row, Math.max(settled.length - 1, 0));
  const { count, scale } = settled[row] ?? {};
  const chart = await desk.ask("fit", { recipe: desk.recipe(), at: desk.at(), row, step, size: made?.base, count, scale });
  if (chart.replaced) return null;
  if (chart.none) return [html("p", { class: "hint" }, chart.none)];
  if (chart.refused) return desk.message(chart.refused);
  return [html("h2", {}, chart.title), ...rows(settled, desk), table(chart, desk), steps(chart, desk), ...legend(chart)];
}

function rows(settled, desk) {
  if (settled.length < 2) return [];
  const of = (place) => button(`Row ${place + 1}`, () => {
    row = place;
    desk.refresh();
  }, { "aria-pressed": String(place === row) });
  return [html("div", { class: "picks", role: "group", "aria-label": "Which row" }, ...settled.map((one, place) => of(place)))];
}

function table(chart, desk) {
  const heads = chart.counts.map(({ words, deg }) => html("th", { scope: "col" }, words, deg ? html("small", {}, deg) : null));
  const lines = chart.rows.map((line) => html("tr", { class: line.is_hard ? "hard" : null },
    html("th", { scope: "row" }, line.words, html("small", {}, line.is_hard ? `${line.inches}, hard to hold` : line.inches)),
    ...line.cells.map((cell) => html("td", { class: cell.is_chosen ? "chosen" : null }, content(cell, chart, desk)))));
  const place = html("div", { class: "chart", role: "region", tabindex: 0, "aria-label": chart.title },
    html("table", { "aria-label": chart.title }, html("thead", {}, html("tr", {}, html("td", {}), ...heads)), html("tbody", {}, ...lines)));
  // On a narrow page the chosen cell is the one to begin with.
  setTimeout(() => {
    const chosen = place.querySelector("td.chosen");
    if (chosen) place.scrollLeft = chosen.offsetLeft - (place.clientWidth + chosen.offsetWidth) / 2;
  });
  return place;
}

function content(cell, chart, desk) {
  if (!cell.options) return html("span", { class: "no" }, cell.words);
  const take = () => desk.change(cell.options, chart.leave_out);
  const made = button(cell.gap, take, { "aria-pressed": String(cell.is_chosen), "aria-label": cell.words ? `${cell.label}, ${cell.words}` : cell.label, class: cell.is_narrow ? "narrow" : null });
  if (cell.words) made.append(html("small", {}, cell.words));
  return made;
}

function steps(chart, desk) {
  const made = chart.steps.map((one) => button(one.words, () => {
    step = one.step;
    desk.refresh();
  }, { "aria-pressed": String(one.step === chart.step), "aria-label": `${one.words} from one ${chart.of} to the next` }));
  return html("div", { class: "tools", role: "group", "aria-label": `From one ${chart.of} to the next` }, html("span", { class: "hint" }, `From one ${chart.of} to the next`), ...made);
}

function legend(chart) {
  const lines = [`Choose a cell to take its ${chart.of} and count.`];
  if (chart.counts.some(({ deg }) => deg)) lines.push("Counts that divide 360 show the degrees from one spoke to the next.");
  if (chart.rows.some((line) => line.is_hard)) lines.push("Hatched: hard to hold.");
  return [html("ul", { class: "said" }, ...[...lines, ...chart.told].map((line) => html("li", {}, line)))];
}
