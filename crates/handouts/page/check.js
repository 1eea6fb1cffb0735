// @ts-check
// The day check: what may stop everything is asked by itself, the rest in short lists. No row is passed without an answer.

import { notTodayEntry, upsertEntry } from './diary.js';
import { askedWith, outcomeOf } from './order.js';
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
  if (state.screen === 'ready' && event.type === 'back') {
    return Object.assign({}, state, { screen: 'check', check: Object.assign({}, check, { row: askedWith(order, check.row).from, open: false }) });
  }
  if (state.screen !== 'check') return null;
  if (event.type === 'back') return steppedBack(state, check, order);
  if (isListed(check, order)) return event.type === 'list' ? listAnswered(state, check, event, order) : null;
  const row = order.check[check.row];
  if (event.type === 'answer' && row.yes) {
    return applied(state, event, order, event.yes === false ? { kind: 'go-on' } : row.yes, null);
  }
  if (event.type === 'value' && row.bands) return valued(state, event, order, row);
  return null;
}

/**
 * Whether a list stands there whole; answered with "yes, one or more" its rows are asked one by one.
 * @param {import('./state.js').Check} check
 * @param {import('./order.js').Order} order
 */
export function isListed(check, order) {
  return !check.open && askedWith(order, check.row).isList;
}

/**
 * One answer to a list: none of it passes all its rows, anything else opens it.
 * @param {import('./state.js').State} state
 * @param {import('./state.js').Check} check
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {import('./state.js').State | null}
 */
function listAnswered(state, check, event, order) {
  if (event.yes === true) return Object.assign({}, state, { check: Object.assign({}, check, { open: true }) });
  if (event.yes === false) return passedTo(state, check, askedWith(order, check.row).to, order);
  return null;
}

/**
 * One screen back: inside an opened list to the row before, from its first row to the list, else to what was asked before.
 * @param {import('./state.js').State} state
 * @param {import('./state.js').Check} check
 * @param {import('./order.js').Order} order
 */
function steppedBack(state, check, order) {
  const { from } = askedWith(order, check.row);
  if (check.open && check.row > from) return Object.assign({}, state, { check: Object.assign({}, check, { row: check.row - 1 }) });
  if (check.open) return Object.assign({}, state, { check: Object.assign({}, check, { open: false }) });
  const row = from === 0 ? 0 : askedWith(order, from - 1).from;
  return Object.assign({}, state, { check: Object.assign({}, check, { row }) });
}

/**
 * On to a row, or to what is made ready after the last.
 * @param {import('./state.js').State} state
 * @param {import('./state.js').Check} check
 * @param {number} next
 * @param {import('./order.js').Order} order
 */
function passedTo(state, check, next, order) {
  if (next >= order.check.length) return Object.assign({}, state, { screen: 'ready', check });
  const open = check.open && next < askedWith(order, check.row).to;
  return Object.assign({}, state, { check: Object.assign({}, check, { row: next, open }) });
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
  return passedTo(state, check, old.row + 1, order);
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
