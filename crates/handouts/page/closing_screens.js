// @ts-check
// The questions at the end, the last lines, and the notes to read out or to save.

import { button, dial, h, listOf, para } from './dom.js';
import { readLines } from './diary.js';
import { isLocked } from './state.js';
import { pulseForm } from './session_screens.js';
import { headOf, nobodyOf, numberForm, quietButton, topOf, yesNo } from './screens.js';

/** @param {import('./screens.js').View} view */
export function closingScreen(view) {
  const closing = /** @type {import('./state.js').Closing} */ (view.state.closing);
  const step = closing.step;
  const body = step === 'effort' ? effortStep(view) : step === 'signs' ? signsStep(view) : otherStep(view, step);
  const back = step === 'effort' || step === 'pulse' ? null : quietButton(view, 'page.buttons.back', 'back', () => view.send({ type: 'back' }));
  const unwell = quietButton(view, 'page.buttons.unwell', 'unwell', () => view.send({ type: 'unwell' }));
  return [topOf(view)].concat(body).concat([h('p', { class: 'back' }, [back, unwell])]);
}

/** @param {import('./screens.js').View} view */
function effortStep(view) {
  const { order, word } = view;
  const from = order.closing.scale === '6-20' ? 6 : 0;
  const to = order.closing.scale === '6-20' ? 20 : 10;
  return [
    h('div', { class: 'mid low' }, [headOf(word('page.notes.effort')), para(order.closing.scaleWords)]),
    numberGrid(view, from, to, 'effort'),
  ];
}

/**
 * @param {import('./screens.js').View} view
 * @param {number} from
 * @param {number} to
 * @param {string} type
 */
function numberGrid(view, from, to, type) {
  const buttons = [];
  for (let value = from; value <= to; value += 1) {
    buttons.push(button(String(value), `n-${value}`, () => view.send({ type, value })));
  }
  return h('div', { class: 'foot grid' }, buttons);
}

/** @param {import('./screens.js').View} view */
function signsStep(view) {
  const { order, state, word, send } = view;
  const closing = /** @type {import('./state.js').Closing} */ (state.closing);
  const rows = order.closing.signs.map((sign) => {
    const on = closing.signs.indexOf(sign.kind) >= 0;
    return h('li', {}, [button(sign.label, `sign-${sign.kind}`, () => send({ type: 'sign', kind: sign.kind }), on ? 'left on' : 'left', { 'aria-pressed': on ? 'true' : 'false' })]);
  });
  const none = closing.signs.length === 0;
  return [
    h('div', { class: 'path' }, [
      headOf(word('page.notes.heart')),
      h('ul', { class: 'feel' }, rows),
      h('div', { class: 'foot' }, [
        none
          ? button(word('page.notes.none-of-these'), 'none', () => send({ type: 'no-sign' }), 'full ink')
          : button(word('page.notes.next'), 'next', () => send({ type: 'signs-told' }), 'full ink'),
      ]),
    ]),
  ];
}

/**
 * @param {import('./screens.js').View} view
 * @param {string} step
 */
function otherStep(view, step) {
  const { order, word, send } = view;
  if (step === 'pulse') return [h('div', { class: 'mid low' }, [headOf(word('page.notes.pulse-end'))]), pulseForm(view, 'page.notes.pulse-sit')];
  if (step === 'spray') return [h('div', { class: 'mid low' }, [headOf(word('page.notes.spray'))]), yesNo(view, 'spray')];
  if (step === 'joint') return [h('div', { class: 'mid low' }, [headOf(word('page.notes.joint'))]), numberGrid(view, 0, 10, 'joint')];
  if (step === 'weight') {
    const bounds = Object.assign({ unit: word('page.notes.weight-kg'), decimals: 1, countS: null }, order.closing.weight);
    return [h('div', { class: 'mid low' }, [headOf(word('page.notes.weight'))]), numberForm(view, bounds, 'weight')];
  }
  const kind = step.slice(6);
  const sign = order.closing.signs.filter((one) => one.kind === kind)[0];
  return [
    h('div', { class: 'mid low' }, [para(sign.label), headOf(word('page.signs.usual-ask'))]),
    h('div', { class: 'foot' }, [
      button(word('page.read.as-usual'), 'usual', () => send({ type: 'usual', usual: true })),
      button(word('page.read.worse'), 'worse', () => send({ type: 'usual', usual: false })),
    ]),
  ];
}

/** @param {import('./screens.js').View} view */
export function lastScreen(view) {
  const { order, state, word } = view;
  const closing = /** @type {import('./state.js').Closing} */ (state.closing);
  const hard = closing.effort !== null && closing.effort > order.closing.high;
  const locked = isLocked(state.lock, order);
  return [
    topOf(view),
    h('div', { class: 'path' }, [
      headOf(word('page.end.head')),
      locked ? para(word('page.notes.symptom-ring'), 'note') : null,
      locked ? dial(word('page.ring-team'), order.team.tel, 'b full ink') : null,
      listOf(order.closing.last, 'ul', 'plain'),
      hard ? para(word('page.notes.effort-high'), 'note') : null,
    ].concat(notesOf(view))),
  ];
}

/** @param {import('./screens.js').View} view */
export function notesScreen(view) {
  return [topOf(view), h('div', { class: 'path' }, [headOf(view.word('page.read.head'))].concat(notesOf(view)))];
}

/**
 * @param {import('./screens.js').View} view
 * @returns {any[]}
 */
function notesOf(view) {
  const { order, state, word, send } = view;
  const entry = state.entries[state.entries.length - 1];
  return [
    h('section', { class: 'notes' }, [
      state.screen === 'last' ? h('h2', { text: word('page.read.head') }) : null,
      para(word(view.keeps ? 'page.notes.saved' : 'page.start.storage-lost')),
      entry ? listOf(readLines(entry, order), 'ul', 'told') : null,
    ]),
    nobodyOf(view),
    button(word('page.read.file'), 'file', view.saveFile),
    h('div', { class: 'foot two stay' }, [
      button(word('page.buttons.close'), 'home', () => send({ type: 'home' }), 'ink'),
      button(word('page.buttons.unwell'), 'unwell', () => send({ type: 'unwell' }), 'strong'),
    ]),
  ];
}
