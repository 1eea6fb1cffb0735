// @ts-check
// "I feel unwell": from any screen, one thing at a time. From the first answer on, nothing more is done until the team has spoken to the person.

import { unwellEntry, upsertEntry } from './diary.js';
import { eased } from './session.js';

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {import('./state.js').State | null}
 */
export function unwellStep(state, event, order) {
  if (event.type === 'unwell' && state.unwell === null) return enterUnwell(state, event, order, order.unwell.first);
  if (state.unwell === null) return null;
  if (event.type === 'path-back') return pathBack(state, event, order);
  if (event.type !== 'choose') return null;
  const node = order.unwell.nodes[state.unwell.node];
  const choice = node.choices[Number(event.index)];
  if (!choice || (choice.afterWait && !waitIsOver(state.unwell, node, event.at))) return state;
  return chosen(state, event, order, choice);
}

/**
 * @param {import('./state.js').Unwell} unwell
 * @param {import('./order.js').PathNode} node
 * @param {number} at
 */
export function waitIsOver(unwell, node, at) {
  return at - unwell.since >= node.waitMs;
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @param {string} nodeId
 * @returns {import('./state.js').State}
 */
export function enterUnwell(state, event, order, nodeId) {
  const run = state.run === null || state.run.pausedAt > 0 ? state.run : Object.assign({}, state.run, { pausedAt: event.at });
  const unwell = {
    node: nodeId,
    since: event.at,
    from: state.screen,
    trail: [nodeId],
    nitrate: false,
    lockBefore: state.lock,
    entriesBefore: state.entries,
  };
  const entryId = state.entryId || event.id || '';
  return marked(Object.assign({}, state, { screen: 'unwell', entryId, run, unwell }), order);
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @param {import('./order.js').Choice} choice
 * @returns {import('./state.js').State}
 */
function chosen(state, event, order, choice) {
  const old = /** @type {import('./state.js').Unwell} */ (state.unwell);
  const next = choice.next;
  if (next.kind === 'node') {
    const node = String(next.node);
    const nitrate = old.nitrate || order.unwell.nodes[node].nitrate;
    const unwell = Object.assign({}, old, { node, since: event.at, trail: old.trail.concat([node]), nitrate });
    return marked(Object.assign({}, state, { unwell }), order);
  }
  if (next.kind === 'afterwards') return Object.assign({}, state, { screen: 'after', unwell: null, run: null, check: null, closing: null });
  return leftPath(state, old, order, next.kind === 'back-eased');
}

/**
 * One step back in the path, or out of it while nothing in it was answered. What was kept from before is restored when
 * no named symptom is left.
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {import('./state.js').State}
 */
function pathBack(state, event, order) {
  const old = /** @type {import('./state.js').Unwell} */ (state.unwell);
  const trail = old.trail.slice(0, -1);
  if (trail.length === 0) return leftPath(state, old, order, false);
  const node = trail[trail.length - 1];
  const before = Object.assign({}, state, { lock: old.lockBefore, entries: old.entriesBefore });
  return marked(Object.assign({}, before, { unwell: Object.assign({}, old, { node, trail, since: event.at }) }), order);
}

/**
 * Back to where it came from: pressed by mistake, or only a joint. In the session that is resting, never going on by itself.
 * @param {import('./state.js').State} state
 * @param {import('./state.js').Unwell} old
 * @param {import('./order.js').Order} order
 * @param {boolean} easing
 * @returns {import('./state.js').State}
 */
function leftPath(state, old, order, easing) {
  const open = Object.assign({}, state, { unwell: null, entries: old.entriesBefore, lock: old.lockBefore });
  const inSession = ['session', 'rest', 'away', 'pulse'].indexOf(old.from) >= 0;
  if (open.run === null || !inSession) return Object.assign({}, open, { screen: old.from });
  const run = easing ? eased(open.run, order, true) : open.run;
  return Object.assign({}, open, { screen: 'rest', run });
}

/**
 * From the first answer on it stands in the notes and the page is closed, also if the device is put away now.
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 * @returns {import('./state.js').State}
 */
function marked(state, order) {
  const unwell = /** @type {import('./state.js').Unwell} */ (state.unwell);
  const node = order.unwell.nodes[unwell.node];
  if (!node.lock) return state;
  const why = node.symptom === null ? unwell.node : node.symptom;
  const lock = { date: order.date, letter: order.letter, on: state.day, why };
  const entries = upsertEntry(state.entries, unwellEntry(state, order, why));
  return Object.assign({}, state, { lock, entries });
}
