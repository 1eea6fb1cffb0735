// @ts-check
// The session in time: walking on, resting, easing, leaving out, the way down. Time only passes while the page is seen.

import { cueAt } from './order.js';

/** A gap between two ticks longer than this means that nobody saw the page: locked, hidden, asleep. */
export const GAP_MS = 5000;

/** The pulse is taken this long after the last brisk turn, whatever comes after that turn. */
export const PULSE_AFTER_MS = 60000;

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @param {((state: import('./state.js').State, order: import('./order.js').Order) => import('./state.js').State)=} close
 * @returns {import('./state.js').State | null}
 */
export function sessionStep(state, event, order, close) {
  if (event.type === 'ready') return startRun(state, event);
  const run = state.run;
  if (run === null) return null;
  if (state.screen === 'session') return walking(state, run, event, order, close);
  if (state.screen === 'rest' || state.screen === 'away' || state.screen === 'pulse') return paused(state, run, event, order);
  if (state.screen === 'too-late' && event.type === 'finish' && close) {
    return close(Object.assign({}, state, { stopped: 'interrupted' }), order);
  }
  return null;
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').PageEvent} event
 */
function startRun(state, event) {
  const run = {
    doneMs: 0,
    tickAt: event.at,
    pausedAt: 0,
    restedMs: 0,
    eased: {},
    done: [],
    left: [],
    wayDown: false,
    pulseAsked: false,
    sinceBrisk: null,
  };
  return Object.assign({}, state, { screen: 'session', run });
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').Run} run
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @param {((state: import('./state.js').State, order: import('./order.js').Order) => import('./state.js').State)=} close
 */
function walking(state, run, event, order, close) {
  if (event.type === 'tick') return turnTicked(state, run, event, order, close);
  if (event.type === 'rest' || event.type === 'hide') {
    const walked = walkOn(run, event.at, order);
    const at = event.type === 'hide' ? walked.tickAt : event.at;
    return Object.assign({}, state, {
      screen: event.type === 'hide' ? 'away' : 'rest',
      run: Object.assign({}, walked, { pausedAt: at }),
    });
  }
  if (event.type === 'ease' || event.type === 'as-before') {
    const walked = walkOn(run, event.at, order);
    return Object.assign({}, state, { run: eased(walked, order, event.type === 'ease') });
  }
  return null;
}

/**
 * The way that belongs to a cue: eased by its exercise, so that it stays eased in the next round.
 * @param {import('./order.js').Order} order
 * @param {number} index
 */
export function easeKey(order, index) {
  const cue = order.cues[index];
  return cue.doing.what === null ? `cue-${index}` : `${cue.doing.what}@${cue.place}`;
}

/**
 * @param {import('./state.js').Run} run
 * @param {import('./order.js').Order} order
 * @param {boolean} on
 */
export function eased(run, order, on) {
  const index = cueAt(order, run.doneMs);
  const key = easeKey(order, index);
  const map = Object.assign({}, run.eased);
  if (on) map[key] = order.cues[index].doing.exercise || '';
  else delete map[key];
  return Object.assign({}, run, { eased: map });
}

/**
 * Time walked since the last tick; turns whose end was passed are done.
 * @param {import('./state.js').Run} run
 * @param {number} at
 * @param {import('./order.js').Order} order
 */
function walkOn(run, at, order) {
  const gap = Math.min(Math.max(0, at - run.tickAt), GAP_MS);
  const doneMs = Math.min(order.length, run.doneMs + gap);
  const done = run.done.slice();
  for (const cue of order.cues) {
    const end = cue.start + cue.length;
    if (cue.station !== null && run.doneMs < end && end <= doneMs && run.left.indexOf(cue.station) < 0) done.push(cue.station);
  }
  return Object.assign({}, run, { doneMs, done, tickAt: Math.max(at, run.tickAt), sinceBrisk: sinceBriskOf(run, doneMs, order) });
}

/**
 * The time since a brisk turn was last done, resting counted; none as long as none was.
 * @param {import('./state.js').Run} run
 * @param {number} doneMs
 * @param {import('./order.js').Order} order
 */
function sinceBriskOf(run, doneMs, order) {
  let since = typeof run.sinceBrisk === 'number' ? run.sinceBrisk + doneMs - run.doneMs : null;
  for (const cue of order.cues) {
    const end = cue.start + cue.length;
    if (cue.kind === 'brisk' && cue.start < doneMs && run.doneMs < end) since = Math.max(0, doneMs - end);
  }
  return since;
}

/**
 * Whether the last brisk turn is this very moment long enough ago. A moment that was rested away is not asked for later:
 * the pulse would no longer be the one that its name says.
 * @param {import('./state.js').Run} before
 * @param {import('./state.js').Run} run
 * @param {import('./order.js').Order} order
 */
function pulseIsDue(before, run, order) {
  if (order.closing.pulseS === null || run.pulseAsked || run.doneMs >= order.length) return false;
  if (typeof before.sinceBrisk !== 'number' || run.sinceBrisk === null) return false;
  const last = order.cues.every((cue) => cue.kind !== 'brisk' || cue.start + cue.length <= run.doneMs);
  return last && before.sinceBrisk < PULSE_AFTER_MS && run.sinceBrisk >= PULSE_AFTER_MS;
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').Run} run
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 * @param {((state: import('./state.js').State, order: import('./order.js').Order) => import('./state.js').State)=} close
 */
function turnTicked(state, run, event, order, close) {
  if (event.at - run.tickAt > GAP_MS) {
    const away = event.at - run.tickAt > order.resumeWithin;
    return Object.assign({}, state, {
      screen: away ? 'too-late' : 'away',
      run: Object.assign({}, run, { pausedAt: run.tickAt }),
    });
  }
  const next = walkOn(run, event.at, order);
  if (pulseIsDue(run, next, order)) {
    return Object.assign({}, state, {
      screen: 'pulse',
      run: Object.assign({}, next, { pulseAsked: true, pausedAt: event.at }),
    });
  }
  const walked = Object.assign({}, state, { run: next });
  if (next.doneMs >= order.length && close) return close(walked, order);
  return walked;
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./state.js').Run} run
 * @param {import('./state.js').PageEvent} event
 * @param {import('./order.js').Order} order
 */
function paused(state, run, event, order) {
  const pausedFor = Math.max(0, event.at - run.pausedAt);
  if (pausedFor > order.resumeWithin) return Object.assign({}, state, { screen: 'too-late' });
  const sinceBrisk = typeof run.sinceBrisk === 'number' ? run.sinceBrisk + pausedFor : null;
  const going = Object.assign({}, run, { tickAt: event.at, pausedAt: 0, restedMs: run.restedMs + pausedFor, sinceBrisk });
  if (event.type === 'go-on') return Object.assign({}, state, { screen: 'session', run: going });
  if (event.type === 'pulse' && state.screen === 'pulse') {
    const pulses = event.value ? state.pulses.concat([{ at: '60-s-after', bpm: event.value, how: `count-${order.closing.pulseS}s` }]) : state.pulses;
    return Object.assign({}, state, { screen: 'session', run: going, pulses });
  }
  if (event.type === 'skip' && state.screen !== 'pulse') return Object.assign({}, state, { screen: 'session', run: turnLeftOut(going, order) });
  if (event.type === 'way-down' && state.screen !== 'pulse') {
    const doneMs = Math.max(going.doneMs, order.wayDown);
    return Object.assign({}, state, { screen: 'session', run: Object.assign({}, going, { doneMs, wayDown: true }) });
  }
  return null;
}

/**
 * Leaves out the turn at hand and goes on with what comes after it. Warm-up and way down are never left out.
 * @param {import('./state.js').Run} run
 * @param {import('./order.js').Order} order
 */
function turnLeftOut(run, order) {
  const cue = order.cues[cueAt(order, run.doneMs)];
  const end = cue.start + cue.length;
  if (cue.station === null) return run;
  return Object.assign({}, run, { doneMs: end, left: run.left.concat([cue.station]) });
}
