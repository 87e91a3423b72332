// Pieces between being seen and being judged: what is found in them comes a moment later, and nothing moves for it.

/** Return pieces as they are shown until it is known what is found in them: with the lists of those they follow. */
export function unjudged(pieces, before) {
  return pieces.map((piece, at) => {
    const old = before[at] ?? { findings: [], mendable: false, rows: [] };
    return {
      ...piece,
      findings: old.findings,
      mendable: old.mendable,
      rows: piece.rows.map((row, k) => withNeighbours(row, old.rows[k])),
      isJudged: false,
    };
  });
}

/** Return the same pieces with what was found in them. */
export function judged(pieces, found) {
  return pieces.map((piece, at) => ({ ...piece, ...found[at], isJudged: true }));
}

// The counts beside a count are known before the gaps that they would leave.
function withNeighbours(row, old) {
  if (!old || old.counts.length < 2 || row.counts.length > 1) return row;
  const [own] = row.counts;
  const counts = old.counts.map(({ count }) => count - old.count + row.count);
  return { ...row, counts: counts.map((count) => (count === row.count ? own : { count, words: own.words.replace(/^\d+/, String(count)), gap: "" })) };
}
