// @ts-check
// What goes into the diary file, in its agreed form, and what is read out on the telephone.

import { dateWords, fillText } from './order.js';

/**
 * @param {any[]} entries
 * @param {any} entry
 * @returns {any[]}
 */
export function upsertEntry(entries, entry) {
  const others = entries.filter((one) => one.id !== entry.id);
  return others.concat([entry]);
}

/**
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 * @returns {any}
 */
function baseEntry(state, order) {
  const run = state.run;
  const entry = {
    id: state.entryId,
    date: state.day,
    stage: order.stage,
    stations_planned: order.stations,
    stations_done: run === null ? 0 : run.done.length,
  };
  const before = state.check !== null && state.check.values.pulse;
  const pulses = before ? [{ at: 'before', bpm: before, how: pulseHow(order) }].concat(/** @type {any[]} */ (state.pulses)) : state.pulses;
  if (pulses.length > 0) Object.assign(entry, { pulses });
  // Of no minutes: it tells that no session was done.
  if (run === null) return Object.assign(entry, { minutes: 0 });
  const eased = Object.keys(run.eased).map((key) => run.eased[key]).filter((id) => id !== '');
  const unique = eased.filter((id, i) => eased.indexOf(id) === i);
  Object.assign(entry, { minutes: Math.round(run.doneMs / 6000) / 10, rested_s: Math.round(run.restedMs / 1000) });
  if (unique.length > 0) Object.assign(entry, { eased: unique });
  return entry;
}

/**
 * @param {import('./order.js').Order} order
 * @returns {string}
 */
function pulseHow(order) {
  const row = order.check.filter((one) => one.id === 'pulse')[0];
  return `count-${row && row.countS ? row.countS : 60}s`;
}

/**
 * The day was left out by the check.
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 * @param {import('./order.js').CheckRow} row
 */
export function notTodayEntry(state, order, row) {
  const entry = baseEntry(state, order);
  entry.stopped_because = `day check: ${row.id}`;
  if (row.told.medicine) entry.medicine_change = 'told in the day check';
  if (row.told.symptom !== null) {
    const symptom = /** @type {any} */ ({ kind: row.told.symptom });
    if (row.told.worse) symptom.usual = false;
    if (row.told.nitrate) symptom.nitrate_used = true;
    entry.symptoms = [symptom];
  }
  return entry;
}

/**
 * How the joints were the morning after a session: told later, so it stands by itself. A file that was saved before
 * says the same as ever.
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 * @param {string} id
 * @param {boolean} worse
 */
export function morningEntry(state, order, id, worse) {
  const session = /** @type {any} */ (state.entries.filter((/** @type {any} */ one) => one.id === state.morningFor)[0]);
  const told = order.words[worse ? 'page.notes.morning-worse' : 'page.notes.morning-usual'];
  const note = fillText(order.words['page.notes.morning-note'], { day: dateWords(session.date, order), told });
  const entry = { id, date: state.day, stage: session.stage, joint_pain: { next_morning: worse ? 'worse' : 'usual' }, minutes: 0, note };
  // What was eased in that session is what the joint is about.
  return worse && session.eased ? Object.assign(entry, { eased: session.eased }) : entry;
}

/**
 * Somebody felt unwell.
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 * @param {string} why
 */
export function unwellEntry(state, order, why) {
  const unwell = /** @type {import('./state.js').Unwell} */ (state.unwell);
  const before = /** @type {any[]} */ (state.entries).filter((one) => one.id === state.entryId)[0] || {};
  const entry = Object.assign({}, before, baseEntry(state, order));
  const kinds = symptomsOf(unwell, order);
  const named = kinds.filter((kind, i) => kinds.indexOf(kind) === i);
  const told = named.map((kind) => {
    const one = /** @type {any} */ ({ kind });
    if (kind === 'chest-discomfort' && unwell.nitrate) one.nitrate_used = true;
    return one;
  });
  const earlier = (before.symptoms || []).filter((/** @type {any} */ one) => named.indexOf(one.kind) < 0);
  const all = earlier.concat(told);
  // Nothing named yet is not "asked, and none".
  if (all.length > 0) entry.symptoms = all;
  entry.stopped_because = `unwell: ${why}`;
  return entry;
}

/**
 * What was named on the way: by the screens that were reached, and by the signs that were ticked together.
 * @param {import('./state.js').Unwell} unwell
 * @param {import('./order.js').Order} order
 * @returns {string[]}
 */
function symptomsOf(unwell, order) {
  const kinds = /** @type {(string | null)[]} */ ([]);
  unwell.trail.forEach((id, i) => {
    const node = order.unwell.nodes[id];
    kinds.push(node.symptom);
    const led = i + 1 < unwell.trail.length;
    node.ticks.forEach((tick) => {
      if (led && unwell.ticked.indexOf(tick.id) >= 0) kinds.push(tick.symptom);
    });
  });
  return /** @type {string[]} */ (kinds.filter((kind) => kind !== null));
}

/**
 * The session was done, or ended early, with what has been answered so far.
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 * @param {boolean} whole whether every question was asked
 */
export function closingEntry(state, order, whole) {
  const closing = /** @type {import('./state.js').Closing} */ (state.closing);
  const entry = baseEntry(state, order);
  if (closing.effort !== null) entry.effort = { scale: order.closing.scale, value: closing.effort };
  // "Not yet asked" and "none" are not the same: signs stand there only once they were answered.
  if (whole || ['pulse', 'effort', 'signs'].indexOf(closing.step) < 0) {
    entry.symptoms = closing.signs.map((kind) => {
      const told = /** @type {any} */ ({ kind });
      if (closing.usual[kind] !== undefined) told.usual = closing.usual[kind];
      if (kind === 'chest-discomfort' && closing.sprayUsed !== null) told.nitrate_used = closing.sprayUsed;
      return told;
    });
  }
  if (closing.joint !== null) entry.joint_pain = { during: closing.joint };
  if (closing.weight !== null) entry.weight_kg = closing.weight;
  if (state.stopped !== '') entry.stopped_because = state.stopped;
  else if (state.run !== null && state.run.wayDown) entry.stopped_because = 'went to the way down early';
  return entry;
}

/**
 * The file that the team reads.
 * @param {import('./state.js').State} state
 * @param {import('./order.js').Order} order
 * @returns {string}
 */
export function diaryFile(state, order) {
  return JSON.stringify({ case: order.caseId, entries: state.entries }, null, 2);
}

/**
 * The same as lines to read out on the telephone.
 * @param {any} entry
 * @param {import('./order.js').Order} order
 * @returns {string[]}
 */
export function readLines(entry, order) {
  const say = (/** @type {string} */ id, /** @type {Object<string, string>} */ values) => fillText(order.words[`page.read.${id}`], values);
  const lines = [say('date', { day: dateWords(entry.date, order) }), say('page', { letter: order.letter })];
  if (entry.stations_planned !== undefined) lines.push(say('turns', { done: String(entry.stations_done), planned: String(entry.stations_planned) }));
  if (entry.effort) lines.push(say('effort', { value: String(entry.effort.value) }));
  if (entry.symptoms) lines.push(signLine(entry, order, say));
  if (entry.joint_pain && entry.joint_pain.during !== undefined) lines.push(say('joint', { value: String(entry.joint_pain.during) }));
  for (const pulse of entry.pulses || []) {
    lines.push(say(pulse.at === 'before' ? 'pulse-before' : pulse.at === '60-s-after' ? 'pulse-after' : 'pulse-end', { value: String(pulse.bpm) }));
  }
  if (entry.note) lines.push(entry.note);
  if (entry.weight_kg) lines.push(say('weight', { value: String(entry.weight_kg) }));
  if (entry.eased) lines.push(say('eased', { names: entry.eased.map((/** @type {string} */ id) => nameOf(id, order)).join(', ') }));
  if (entry.rested_s >= 60) lines.push(say('rested', { minutes: String(Math.round(entry.rested_s / 60)) }));
  return lines;
}

/**
 * @param {any} entry
 * @param {import('./order.js').Order} order
 * @param {(id: string, values: Object<string, string>) => string} say
 */
function signLine(entry, order, say) {
  if (entry.symptoms.length === 0) return say('no-signs', {});
  const signs = entry.symptoms.map((/** @type {any} */ one) => {
    const label = order.words[`page.signs.${one.kind}`] || one.kind;
    const parts = [label];
    if (one.usual === true) parts.push(order.words['page.read.as-usual']);
    if (one.usual === false) parts.push(order.words['page.read.worse']);
    if (one.nitrate_used) parts.push(order.words['page.read.spray']);
    return parts.join(', ');
  });
  return say('signs', { signs: signs.join('; ') });
}

/**
 * @param {string} exercise
 * @param {import('./order.js').Order} order
 */
function nameOf(exercise, order) {
  const cue = order.cues.filter((one) => one.doing.exercise === exercise)[0];
  return cue ? cue.doing.name : exercise;
}
