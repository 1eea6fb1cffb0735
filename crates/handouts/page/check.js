// @ts-check
// The day check, row by row. It cannot be passed without an answer to every row.

import { notTodayEntry, upsertEntry } from './diary.js';
import { outcomeOf } from './order.js';
import { enterUnwell } from './unwell.js';

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {import('./state.js').State | null}
 */
export function checkStep(state, event, order) {
  const check = state.check;
  if (check === null) return null;
  if (state.screen === 'first' && event.type === 'again') {
    return Object.assign({}, state, { screen: 'check', check: Object.assign({}, check, { first: '' }) });
  }
  if (state.screen === 'first' && event.type === 'leave') {
    return leftOut(state, order, order.check[check.row], check, order.words['check.outcome.leave-ring']);
  }
  if (state.screen === 'ready' && event.type === 'back') return Object.assign({}, state, { screen: 'check' });
  if (state.screen !== 'check') return null;
  if (event.type === 'back') {
    return Object.assign({}, state, { check: Object.assign({}, check, { row: Math.max(0, check.row - 1) }) });
  }
  const row = order.check[check.row];
  if (event.type === 'answer' && row.yes) {
    return applied(state, event, order, event.yes === false ? { kind: 'go-on' } : row.yes, null);
  }
  if (event.type === 'value' && row.bands) return valued(state, event, order, row);
  return null;
}

/**
 * A number, or none: what none comes to stands in the running order like everything else.
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @param {import('./order.js').CheckRow} row
 */
function valued(state, event, order, row) {
  if (event.value === null || event.value === undefined) {
    return applied(state, event, order, /** @type {import('./order.js').Outcome} */ (row.unmeasured), null);
  }
  const value = rateOf(event.value, row.countS);
  if (!withinRow(row, value)) return state;
  return applied(state, event, order, outcomeOf(row.bands || [], value), value);
}

/**
 * Beats counted over some seconds as beats a minute; anything else as it is.
 * @param {number} value
 * @param {number | null | undefined} countS
 */
export function rateOf(value, countS) {
  return countS ? Math.round((value * 60) / countS) : value;
}

/**
 * @param {import('./order.js').CheckRow} row
 * @param {number} value
 */
export function withinRow(row, value) {
  return Number.isFinite(value) && value >= Number(row.least) && value <= Number(row.most);
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @param {import('./order.js').Outcome} outcome
 * @param {number | null} value
 */
function applied(state, event, order, outcome, value) {
  const old = /** @type {import('./state.js').Check} */ (state.check);
  const row = order.check[old.row];
  const values = value === null ? old.values : Object.assign({}, old.values, { [row.id]: value });
  const check = Object.assign({}, old, { values });
  if (outcome.kind === 'first') {
    return Object.assign({}, state, { screen: 'first', check: Object.assign({}, check, { first: outcome.text }) });
  }
  if (outcome.kind === 'unwell') {
    return enterUnwell(Object.assign({}, state, { check }), event, order, outcome.node);
  }
  if (outcome.kind === 'not-today') return leftOut(state, order, row, check, outcome.text);
  const next = old.row + 1;
  if (next < order.check.length) return Object.assign({}, state, { check: Object.assign({}, check, { row: next }) });
  return Object.assign({}, state, { screen: 'ready', check });
}

/**
 * The day is left out: it stands in the notes, and no session begins on this day any more. Where the row says so, none
 * begins on this page until the team has spoken to the person.
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 * @param {import('./order.js').CheckRow} row
 * @param {import('./state.js').Check} check
 * @param {string} reason
 * @returns {import('./state.js').State}
 */
function leftOut(state, order, row, check, reason) {
  const told = Object.assign({}, state, { check });
  const entries = upsertEntry(state.entries, notTodayEntry(told, order, row));
  const lock = row.told.lock ? { date: order.date, letter: order.letter, on: state.day, why: row.id } : state.lock;
  return Object.assign({}, told, { screen: 'not-today', entries, lock, held: { on: state.day, reason } });
}
