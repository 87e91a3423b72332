// The one way to the desk: every question carries the token of this page.

const token = document.querySelector("meta[name=desk-token]").content;
const page = crypto.randomUUID ? crypto.randomUUID() : String(Math.random());

function gone() {
  return { refused: [[{ words: "The desk does not answer. Start it again with: frameforge desk" }]] };
}

async function sent(kind, headers, body) {
  let response;
  try {
    response = await fetch(`/${kind}`, { method: "POST", headers: { "x-desk-token": token, ...headers }, body });
  } catch {
    return gone();
  }
  const type = response.headers.get("content-type") || "";
  if (type.startsWith("application/zip")) {
    const named = /filename\*=UTF-8''(.+)$/.exec(response.headers.get("content-disposition") || "");
    return { file: await response.blob(), name: named ? decodeURIComponent(named[1]) : "pieces.zip" };
  }
  if (type.startsWith("application/json")) return response.json();
  return { refused: [[{ words: await response.text() }]] };
}

/** Ask a question of plain values; the answer holds `replaced` when a newer one came before it. */
export function ask(kind, question) {
  return sent(kind, { "content-type": "application/json" }, JSON.stringify({ page, ...question }));
}

/** Hand a file in, with the recipe that it belongs to. */
export function handIn(kind, file, recipe = "") {
  const bytes = new TextEncoder().encode(recipe);
  const headers = { "x-desk-name": encodeURIComponent(file.name), "x-desk-page": page, "x-desk-recipe-bytes": String(bytes.length) };
  return sent(kind, { "content-type": "application/octet-stream", ...headers }, new Blob([bytes, file]));
}
