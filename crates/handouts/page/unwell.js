// @ts-check
// "I feel unwell": from any screen, one thing at a time. From the first answer on, nothing more is done until the team has spoken to the person.

import { unwellEntry, upsertEntry } from './diary.js';
import { eased } from './session.js';

/** Screens at which the notes of the session are complete and can be saved as a file. */
const CLOSED = ['last', 'saved', 'locked'];

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
  if (event.type === 'tick-sign') return ticked(state, state.unwell, String(event.kind));
  if (event.type === 'ticked') return togetherTold(state, state.unwell, event, order);
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
    ticked: [],
    nitrate: false,
    firm: false,
    lockBefore: state.lock,
    entriesBefore: state.entries,
    idBefore: state.entryId,
  };
  // Notes that may have gone out in a file are never written anew: what comes later stands by itself.
  const own = state.entryId === '' || CLOSED.indexOf(state.screen) >= 0;
  const begun = own ? { entryId: event.id || '', pulses: [] } : {};
  return marked(Object.assign({}, state, begun, { screen: 'unwell', run, unwell }), order);
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').Unwell} old
 * @param {string} kind
 */
function ticked(state, old, kind) {
  const on = old.ticked.indexOf(kind) >= 0;
  const list = on ? old.ticked.filter((one) => one !== kind) : old.ticked.concat([kind]);
  return Object.assign({}, state, { unwell: Object.assign({}, old, { ticked: list }) });
}

/**
 * Several signs were told: the first way that fits them is taken.
 * @param {import('./state.js').State} state
 * @param {import('./state.js').Unwell} old
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 */
function togetherTold(state, old, event, order) {
  const node = order.unwell.nodes[old.node];
  const known = old.ticked.filter((kind) => node.ticks.some((tick) => tick.id === kind));
  const way = node.together.filter((one) => known.length >= one.least && one.needs.every((kind) => known.indexOf(kind) >= 0))[0];
  if (way === undefined) return state;
  const unwell = Object.assign({}, old, { node: way.next, since: event.at, trail: old.trail.concat([way.next]) });
  return marked(Object.assign({}, state, { unwell }), order);
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
  if (next.kind === 'afterwards') return pathEnd(state);
  return leftPath(state, old, order, next.kind === 'back-eased');
}

/**
 * One step back in the path, or out of it while nothing in it was answered. A slip of the finger is taken back: what was
 * kept from before is restored while there is one answer. After a second one, or once the spray was used, what was told
 * stays told, however far one goes back.
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {import('./state.js').State}
 */
function pathBack(state, event, order) {
  const old = /** @type {import('./state.js').Unwell} */ (state.unwell);
  const answers = old.trail[0] === order.unwell.first ? old.trail.length - 1 : old.trail.length;
  const firm = old.firm || old.nitrate || answers > 1;
  const trail = old.trail.slice(0, -1);
  if (trail.length === 0) return leftPath(state, Object.assign({}, old, { firm }), order, false);
  const node = trail[trail.length - 1];
  const before = firm ? state : Object.assign({}, state, { lock: old.lockBefore, entries: old.entriesBefore });
  return marked(Object.assign({}, before, { unwell: Object.assign({}, old, { node, trail, firm, since: event.at }) }), order);
}

/**
 * Back to where it came from: pressed by mistake, or only a joint. In the session that is resting, never going on by
 * itself. Where something was told that stays, it is the end of the path instead.
 * @param {import('./state.js').State} state
 * @param {import('./state.js').Unwell} old
 * @param {import('./order.js').Order} order
 * @param {boolean} easing
 * @returns {import('./state.js').State}
 */
function leftPath(state, old, order, easing) {
  if (old.firm || old.nitrate) return pathEnd(state);
  const open = Object.assign({}, state, { unwell: null, entries: old.entriesBefore, lock: old.lockBefore, entryId: old.idBefore });
  const inSession = ['session', 'rest', 'away', 'pulse'].indexOf(old.from) >= 0;
  if (open.run === null || !inSession) return Object.assign({}, open, { screen: old.from });
  const run = easing ? eased(open.run, order, true) : open.run;
  return Object.assign({}, open, { screen: 'rest', run });
}

/**
 * What comes afterwards, whatever happened.
 * @param {import('./state.js').State} state
 * @returns {import('./state.js').State}
 */
function pathEnd(state) {
  return Object.assign({}, state, { screen: 'after', unwell: null, run: null, check: null, closing: null });
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
