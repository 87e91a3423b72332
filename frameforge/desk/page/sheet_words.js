// The sentence about sheets: its words, and its blanks. Keys are those of the recipe's [sheets].

import { html } from "./build.js";

const TURNS = [["free", "freely"], ["quarter", "by quarters"], ["half", "end for end"], ["none", "not at all"]];

const BLANKS = {
  sheet: { label: "Sheets, by name or size" },
  margin: { label: "Margin, kept free at the edge of every sheet" },
  apart: { label: "How far pieces lie apart" },
  turn: { label: "How pieces may be turned", picks: TURNS },
  stack: { label: "How many sheets are cut at once" },
  price: { label: "What one sheet costs" },
  seed: { label: "The number of the search, another one gives another" },
};

/** Return the sentence; `terms` are the answer's, `change(options, leaveOut)` puts a value in or takes it out. */
export function sheetSentence(terms, change) {
  const copies = terms.copies.flatMap((one, at) => [
    at ? (at + 1 === terms.copies.length ? " and " : ", ") : "", copiesBlank(one, terms.copies.length > 1, change),
    terms.copies.length > 1 ? ` of ${one.name || `piece ${at + 1}`}` : "",
  ]);
  const blank = (key) => termBlank(key, terms, change);
  return [
    html("p", { class: "first sheet-say" }, "Lay ", ...copies, " on ", blank("sheet"), " sheets, with a margin of ", blank("margin"), " and ", blank("apart"), " apart."),
    html("p", { class: "more sheet-say" }, "Pieces may turn ", blank("turn"), "; cut ", blank("stack"), " at once; a sheet costs ", blank("price"), "; search ", blank("seed"), "."),
  ];
}

function copiesBlank({ address, name, value }, isOneOfSeveral, change) {
  const label = isOneOfSeveral ? `Copies of ${name}` : "Copies";
  return typed(label, "copies", value, "1", (words) => change({ [address]: words }, []), () => change({}, [address]));
}

function termBlank(key, { said, usual }, change) {
  const { label, picks } = BLANKS[key];
  const address = `sheets.${key}`;
  const put = (words) => change({ [address]: words }, []);
  const drop = () => change({}, [address]);
  if (!picks) return typed(label, key, said[key] ?? "", usual[key], put, drop);
  const now = said[key] ?? usual[key];
  const choose = (event) => (event.target.value === usual[key] ? drop() : put(event.target.value));
  return html("select", { "aria-label": label, title: `in the recipe: ${key}`, "data-key": key, onchange: choose },
    ...picks.map(([value, words]) => html("option", { value, selected: value === now }, words)));
}

// What is left empty is said by what usually holds, in a paler hand.
function typed(label, key, value, usual, put, drop) {
  const take = (event) => {
    const words = event.target.value.trim();
    if (words === value) return;
    if (words) put(words);
    else drop();
  };
  return html("input", {
    type: "text", "aria-label": label, title: `in the recipe: ${key}`, "data-key": key, value, placeholder: usual || "not said", size: Math.max(2, (value || usual || "not said").length),
    autocomplete: "off", autocapitalize: "off", spellcheck: "false", onchange: take,
  });
}
