// @ts-check
// The questions at the end, one at a time, and the entry they make.

import { closingEntry, upsertEntry } from './diary.js';

/**
 * The questions that this person is asked, in order. The pulse comes before them and is never gone back to.
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 * @returns {string[]}
 */
export function closingSteps(state, order) {
  const closing = /** @type {import('./state.js').Closing} */ (state.closing);
  const known = order.closing.signs.filter((sign) => sign.known && closing.signs.indexOf(sign.kind) >= 0);
  const steps = ['effort', 'signs'];
  known.forEach((sign) => steps.push(`usual:${sign.kind}`));
  if (order.closing.spray && closing.signs.indexOf('chest-discomfort') >= 0) steps.push('spray');
  steps.push('joint');
  if (order.closing.weight) steps.push('weight');
  return steps;
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 * @returns {import('./state.js').State}
 */
export function startClosing(state, order) {
  // A pulse is asked where the session was walked to its end; one that was broken off is told long after it.
  const step = order.closing.pulseS !== null && state.stopped === '' ? 'pulse' : 'effort';
  const closing = { step, effort: null, signs: [], usual: {}, sprayUsed: null, joint: null, weight: null, asking: '' };
  const begun = Object.assign({}, state, { screen: 'closing', closing });
  // What was done stands in the notes at once; the answers are added to it.
  return Object.assign({}, begun, { entries: upsertEntry(begun.entries, closingEntry(begun, order, false)) });
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {import('./state.js').State | null}
 */
export function closingStep(state, event, order) {
  const closing = state.closing;
  if (closing === null || state.screen !== 'closing') return null;
  if (event.type === 'sign') return Object.assign({}, state, { closing: signTicked(closing, String(event.kind)) });
  if (event.type === 'no-sign') return advanced(Object.assign({}, state, { closing: Object.assign({}, closing, { signs: [], usual: {} }) }), order);
  if (event.type === 'back') return wentBackOne(state, order);
  if (closing.step === 'pulse') return pulseTold(state, event, order);
  const told = answered(closing, event);
  return told === null ? null : advanced(Object.assign({}, state, { closing: told }), order);
}

/**
 * The pulse when the way down is over. Counted long after, it would no longer be that pulse: then it is not asked any more.
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @returns {import('./state.js').State | null}
 */
function pulseTold(state, event, order) {
  const run = /** @type {import('./state.js').Run} */ (state.run);
  if (event.at - run.tickAt > order.resumeWithin) return advanced(state, order);
  if (event.type !== 'pulse') return null;
  const pulses = event.value ? state.pulses.concat([{ at: 'after-cool-down', bpm: event.value, how: `count-${order.closing.pulseS}s` }]) : state.pulses;
  return advanced(Object.assign({}, state, { pulses }), order);
}

/**
 * @param {import('./state.js').Closing} closing
 * @param {string} kind
 */
function signTicked(closing, kind) {
  const on = closing.signs.indexOf(kind) >= 0;
  const signs = on ? closing.signs.filter((one) => one !== kind) : closing.signs.concat([kind]);
  return Object.assign({}, closing, { signs });
}

/**
 * @param {import('./state.js').Closing} closing
 * @param {import('./state.js').PageEvent} event
 * @returns {import('./state.js').Closing | null}
 */
function answered(closing, event) {
  const step = closing.step;
  if (event.type === 'effort' && step === 'effort') return Object.assign({}, closing, { effort: event.value });
  if (event.type === 'signs-told' && step === 'signs') return closing;
  if (event.type === 'usual' && step.indexOf('usual:') === 0) {
    return Object.assign({}, closing, { usual: Object.assign({}, closing.usual, { [step.slice(6)]: event.usual === true }) });
  }
  if (event.type === 'spray' && step === 'spray') return Object.assign({}, closing, { sprayUsed: event.yes === true });
  if (event.type === 'joint' && step === 'joint') return Object.assign({}, closing, { joint: event.value });
  if (event.type === 'weight' && step === 'weight') return Object.assign({}, closing, { weight: event.value });
  return null;
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 */
function advanced(state, order) {
  const closing = /** @type {import('./state.js').Closing} */ (state.closing);
  const steps = closingSteps(state, order);
  const next = steps[steps.indexOf(closing.step) + 1];
  if (next !== undefined) {
    const asked = Object.assign({}, state, { closing: Object.assign({}, closing, { step: next }) });
    return Object.assign({}, asked, { entries: upsertEntry(state.entries, closingEntry(asked, order, false)) });
  }
  const entries = upsertEntry(state.entries, closingEntry(state, order, true));
  const lock = lockOfSigns(closing, order, state);
  return Object.assign({}, state, { screen: 'last', entries, lock, run: null, check: null });
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 */
function wentBackOne(state, order) {
  const closing = /** @type {import('./state.js').Closing} */ (state.closing);
  const steps = closingSteps(state, order);
  const at = Math.max(0, steps.indexOf(closing.step) - 1);
  return Object.assign({}, state, { closing: Object.assign({}, closing, { step: steps[at] }) });
}

/**
 * Signs that stop: new ones, or worse than usual. Which these are was decided beforehand.
 * @param {import('./state.js').Closing} closing
 * @param {import('./order.js').Order} order
 * @param {import('./state.js').State} state
 * @returns {import('./state.js').Lock | null}
 */
function lockOfSigns(closing, order, state) {
  for (const sign of order.closing.signs) {
    const told = closing.signs.indexOf(sign.kind) >= 0;
    if (told && sign.lock && closing.usual[sign.kind] !== true) {
      return { date: order.date, letter: order.letter, on: state.day, why: sign.kind };
    }
  }
  return state.lock;
}
