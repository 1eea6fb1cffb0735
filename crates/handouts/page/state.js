// @ts-check
// Where the person is on the page. Every change is one pure step: state and event in, new state out; time comes with the event.

import { checkStep } from './check.js';
import { closingStep, startClosing } from './closing.js';
import { morningEntry, upsertEntry } from './diary.js';
import { sessionStep } from './session.js';
import { unwellStep } from './unwell.js';

/**
 * @typedef {{date: string, letter: string, on: string, why: string}} Lock
 * @typedef {{on: string, reason: string}} Held
 * @typedef {{row: number, open: boolean, values: Object<string, number>, first: string}} Check
 * @typedef {{doneMs: number, tickAt: number, pausedAt: number, restedMs: number, eased: Object<string, string>,
 *   done: number[], left: number[], wayDown: boolean, pulseAsked: boolean, sinceBrisk: number | null}} Run
 * @typedef {{node: string, since: number, from: string, trail: string[], ticked: string[], nitrate: boolean, firm: boolean,
 *   lockBefore: Lock | null, entriesBefore: Object[], idBefore: string}} Unwell
 * @typedef {{step: string, effort: number | null, signs: string[], usual: Object<string, boolean>, sprayUsed: boolean | null,
 *   joint: number | null, weight: number | null, asking: string}} Closing
 * @typedef {{version: number, page: string, screen: string, day: string, entryId: string, check: Check | null, run: Run | null,
 *   unwell: Unwell | null, closing: Closing | null, pulses: Object[], lock: Lock | null, held: Held | null,
 *   entries: Object[], stopped: string, morningFor: string}} State
 * @typedef {{type: string, at: number, day?: string, id?: string, yes?: boolean, value?: number | null, index?: number,
 *   kind?: string, usual?: boolean, worse?: boolean | null}} PageEvent
 */

/** Raised when stored states of older pages can no longer be read. */
export const STATE_VERSION = 1;

/** @returns {State} */
export function freshState() {
  return {
    version: STATE_VERSION,
    page: '',
    screen: 'start',
    day: '',
    entryId: '',
    check: null,
    run: null,
    unwell: null,
    closing: null,
    pulses: [],
    lock: null,
    held: null,
    entries: [],
    stopped: '',
    morningFor: '',
  };
}

/**
 * Whether an earlier happening still keeps this page closed: only a page that is later than the one it happened on opens.
 * @param {Lock | null} lock
 * @param {import('./order.js').Order} order
 */
export function isLocked(lock, order) {
  if (lock === null) return false;
  return !(order.date > lock.date || (order.date === lock.date && order.letter > lock.letter));
}

/**
 * Whether an answer of this day leaves it out: it holds whatever is opened or pressed until the next day.
 * @param {State} state
 * @param {string} day
 */
export function isHeld(state, day) {
  return state.held !== null && state.held.on === day;
}

/**
 * Which page a state belongs to: what was begun on another page is not gone on with on this one.
 * @param {import('./order.js').Order} order
 */
export function pageMark(order) {
  return `${order.date} ${order.letter}`;
}

/**
 * One step.
 * @param {State} state
 * @param {PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {State}
 */
export function reduce(state, event, order) {
  switch (event.type) {
    case 'open':
      return opened(state, event, order);
    case 'begin':
      return begun(state, event, order);
    case 'afresh':
      return begun(cleared(state), event, order);
    case 'morning':
      return morningTold(state, event, order);
    case 'ready':
      return (state.screen === 'ready' && sessionStep(state, event, order)) || state;
    case 'home':
      return Object.assign({}, cleared(state), { screen: isLocked(state.lock, order) ? 'locked' : 'start' });
    case 'to-notes':
      return state.screen === 'after' ? Object.assign({}, state, { screen: 'saved' }) : state;
    default:
      return (
        checkStep(state, event, order) ||
        unwellStep(state, event, order) ||
        sessionStep(state, event, order, startClosing) ||
        closingStep(state, event, order) ||
        state
      );
  }
}

/**
 * The page was opened or opened again: nothing that was told is lost, and nothing goes on by itself.
 * @param {State} state
 * @param {PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {State}
 */
function opened(state, event, order) {
  const day = event.day || '';
  if (state.page !== pageMark(order)) return openedOther(state, day, order);
  if (state.unwell !== null || state.screen === 'after') return state;
  if (isLocked(state.lock, order)) return Object.assign({}, cleared(state), { screen: 'locked', day });
  const unlocked = state.lock === null ? state : Object.assign({}, state, { lock: null });
  if (unlocked.closing !== null && unlocked.screen === 'closing') return unlocked;
  if (unlocked.run !== null) {
    const away = event.at - Math.max(unlocked.run.tickAt, unlocked.run.pausedAt);
    const screen = away > order.resumeWithin ? 'too-late' : 'away';
    const run = Object.assign({}, unlocked.run, { pausedAt: unlocked.run.pausedAt || unlocked.run.tickAt });
    return Object.assign({}, unlocked, { screen, run });
  }
  return Object.assign({}, cleared(unlocked), { screen: 'start', day });
}

/**
 * The state was kept by another page of the same person: its notes stay, what was begun there does not.
 * @param {State} state
 * @param {string} day
 * @param {import('./order.js').Order} order
 * @returns {State}
 */
function openedOther(state, day, order) {
  const locked = isLocked(state.lock, order);
  const lock = locked ? state.lock : null;
  return Object.assign({}, cleared(state), { page: pageMark(order), screen: locked ? 'locked' : 'start', day, lock });
}

/**
 * What is kept between sessions stays; what belongs to one session goes.
 * @param {State} state
 * @returns {State}
 */
export function cleared(state) {
  return Object.assign({}, freshState(), {
    page: state.page,
    lock: state.lock,
    held: state.held,
    entries: state.entries,
    day: state.day,
  });
}

/**
 * @param {State} state
 * @param {PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {State}
 */
function begun(state, event, order) {
  if (isLocked(state.lock, order)) return Object.assign({}, state, { screen: 'locked' });
  const day = event.day || state.day;
  if (isHeld(state, day)) return Object.assign({}, cleared(state), { screen: 'not-today', day });
  const base = Object.assign({}, cleared(state), {
    day,
    entryId: event.id || '',
    check: { row: 0, open: false, values: {}, first: '' },
  });
  const open = unansweredMorning(state.entries, day);
  if (open !== '') return Object.assign({}, base, { screen: 'morning', morningFor: open });
  return Object.assign({}, base, { screen: 'check' });
}

/**
 * The newest earlier session whose next morning was not yet told.
 * @param {any[]} entries
 * @param {string} day
 * @returns {string}
 */
function unansweredMorning(entries, day) {
  const last = entries[entries.length - 1];
  if (!last || !(last.date < day) || !last.joint_pain || last.joint_pain.next_morning !== undefined) return '';
  return last.id;
}

/**
 * @param {State} state
 * @param {PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {State}
 */
function morningTold(state, event, order) {
  if (state.screen !== 'morning') return state;
  let entries = state.entries;
  if (event.worse === true || event.worse === false) {
    entries = upsertEntry(entries, morningEntry(state, order, `${event.id}-morning`, event.worse));
  }
  return Object.assign({}, state, { screen: 'check', entries, morningFor: '' });
}
