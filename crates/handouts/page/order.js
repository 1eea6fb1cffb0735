// @ts-check
// The running order as the page receives it: everything that is decided stands in here; the page compares and chooses.

/**
 * @typedef {{kind: 'go-on'} | {kind: 'first', text: string} | {kind: 'not-today', text: string} | {kind: 'unwell', node: string}} Outcome
 * @typedef {{below: number | null, outcome: Outcome}} Band
 * @typedef {{symptom: string | null, worse: boolean, nitrate: boolean, medicine: boolean, lock: boolean}} Told
 * @typedef {{number: number, head: string, line: string}} Listed
 * @typedef {{id: string, question: string, passed: string, told: Told, listed: Listed | null, yes?: Outcome, unit?: string, least?: number,
 *   most?: number, decimals?: number, countS?: number | null, bands?: Band[], unmeasured?: Outcome}} CheckRow
 * @typedef {{what: string | null, exercise: string | null, name: string, setUp: string, lines: string[], tempo: string,
 *   care: string, figure: string | null}} Doing
 * @typedef {{start: number, length: number, phase: string, kind: string, round: number, onceMore: boolean,
 *   station: number | null, title: string, short: string, place: string, doing: Doing, easier: Doing}} Cue
 * @typedef {{label: string, next: {kind: string, node?: string}, afterWait: boolean}} Choice
 * @typedef {{head: string, lines: string[], call: string, waitMs: number, question: string, choices: Choice[],
 *   ticks: {id: string, label: string, symptom: string | null}[], together: {needs: string[], least: number, next: string}[],
 *   symptom: string | null, lock: boolean, nitrate: boolean}} PathNode
 * @typedef {{kind: string, label: string, known: boolean, lock: boolean}} Sign
 * @typedef {{name: string, number: string, tel: string, text: string, otherwise: string | null}} Reach
 * @typedef {{caseId: string, called: string, letter: string, date: string, stage: number, draft: boolean, approval: string,
 *   validUntil: string | null, emergency: Reach, team: Reach, sum: string, often: string, wayDown: number, length: number,
 *   resumeWithin: number, stations: number, cues: Cue[], check: CheckRow[], ready: string[],
 *   unwell: {first: string, nodes: Object<string, PathNode>, after: string[]},
 *   closing: {scale: string, scaleWords: string, high: number, signs: Sign[], spray: boolean, pulseS: number | null,
 *     weight: {least: number, most: number} | null, last: string[]},
 *   way: {left: number, right: number, ground: number, heights: number[]}, words: Object<string, string>}} Order
 */

/**
 * Reads the running order: what is done stands in a list of its own, each once, and is put back into the cues.
 * @param {string} text
 * @returns {Order}
 */
export function readOrder(text) {
  const order = JSON.parse(text);
  order.cues.forEach((/** @type {any} */ cue) => {
    cue.doing = order.doings[cue.doing];
    cue.easier = order.doings[cue.easier];
  });
  return order;
}

/**
 * The cue at a moment of the session; at the very end the last one.
 * @param {Order} order
 * @param {number} ms
 * @returns {number}
 */
export function cueAt(order, ms) {
  for (let i = 0; i < order.cues.length; i += 1) {
    if (ms < order.cues[i].start + order.cues[i].length) return i;
  }
  return order.cues.length - 1;
}

/**
 * Where a row of the day check is asked: by itself, or in a list with its neighbours. `to` is the row after the last.
 * @param {Order} order
 * @param {number} row
 * @returns {{from: number, to: number, isList: boolean}}
 */
export function askedWith(order, row) {
  const same = (/** @type {number} */ at) => {
    const one = order.check[row].listed;
    const other = order.check[at] ? order.check[at].listed : null;
    return one !== null && other !== null && one.number === other.number;
  };
  let from = row;
  let to = row + 1;
  while (same(from - 1)) from -= 1;
  while (same(to)) to += 1;
  return { from, to, isList: order.check[row].listed !== null };
}

/**
 * The outcome of a number: the first band that ends above it.
 * @param {Band[]} bands
 * @param {number} value
 * @returns {Outcome}
 */
export function outcomeOf(bands, value) {
  for (const band of bands) {
    if (band.below === null || value < band.below) return band.outcome;
  }
  return bands[bands.length - 1].outcome;
}

/**
 * Fills the placeholders of a text; a name without a value stays as it stands.
 * @param {string} text
 * @param {Object<string, string>} values
 * @returns {string}
 */
export function fillText(text, values) {
  return text.replace(/\{([a-z_]+)\}/g, (whole, name) => (Object.prototype.hasOwnProperty.call(values, name) ? values[name] : whole));
}

/**
 * The height of the line of hills at a moment, and where that is from left to right.
 * @param {Order} order
 * @param {number} ms
 * @returns {{x: number, y: number}}
 */
export function pointOnWay(order, ms) {
  const way = order.way;
  const share = Math.min(1, Math.max(0, ms / order.length));
  const place = share * (way.heights.length - 1);
  const low = Math.floor(place);
  const high = Math.min(low + 1, way.heights.length - 1);
  const y = way.heights[low] + (way.heights[high] - way.heights[low]) * (place - low);
  return { x: way.left + (way.right - way.left) * share, y };
}

/**
 * A day as it is written in the diary, in words.
 * @param {string} iso
 * @param {Order} order
 */
export function dateWords(iso, order) {
  const parts = iso.split('-');
  if (parts.length !== 3) return iso;
  const month = order.words[`say.month.${Number(parts[1])}`];
  return fillText(order.words['say.date'], { day: String(Number(parts[2])), month, year: parts[0] });
}
