// @ts-check
// The unwell path on the screen: the call first, one thing after it.

import { button, dial, h, listOf, para } from './dom.js';
import { headOf, nobodyOf, quietButton } from './screens.js';
import { waitIsOver } from './unwell.js';

/** Labels up to this many letters fit side by side. */
const SHORT_LABEL = 8;

/** @param {import('./screens.js').View} view */
export function unwellScreen(view) {
  const { order, state, word, send } = view;
  const unwell = /** @type {import('./state.js').Unwell} */ (state.unwell);
  const node = order.unwell.nodes[unwell.node];
  const over = waitIsOver(unwell, node, view.at);
  if (node.ticks.length > 0) return severalScreen(view, node);
  const shown = node.choices.map((choice, index) => ({ choice, index })).filter((one) => one.choice.next.kind !== 'back');
  // Yes and no lie side by side, so that both are in sight with the question.
  const sides = shown.length === 2 && shown.every((one) => one.choice.label.length <= SHORT_LABEL);
  const choices = shown.map(({ choice, index }) => {
    const waits = choice.afterWait && !over;
    return h('li', {}, [button(choice.label, `choice-${index}`, () => send({ type: 'choose', index }), sides ? '' : waits ? 'left wait' : 'left', { disabled: waits })]);
  });
  const isFirst = unwell.node === order.unwell.first;
  // While something is asked, the question comes straight after the call; the service's own words stand below it.
  const asks = !isFirst && node.choices.some((choice) => choice.next.kind !== 'afterwards');
  return [
    callHead(view, node.call, isFirst ? node.lines.join(' ') : asks ? '' : order.emergency.text),
    h('div', { class: 'path' }, [
      headOf(isFirst && node.question !== '' ? `${node.head} ${node.question}` : node.head),
      isFirst ? null : h('div', {}, node.lines.map((line) => para(line, 'say-now'))),
      node.waitMs > 0 ? h('p', { id: 'wait', class: 'wait-left', role: 'timer', text: waitText(view) }) : null,
      !isFirst && node.question !== '' ? h('h2', { text: node.question }) : null,
      h('ul', { class: sides ? 'feel sides' : 'feel' }, choices),
      asks && node.call !== 'team' ? para(order.emergency.text, 'quiet') : null,
      h('p', { class: 'back' }, [quietButton(view, unwell.trail.length > 1 ? 'page.buttons.back' : 'unwell.mistake', 'path-back', () => send({ type: 'path-back' }))]),
      nobodyOf(view),
    ]),
  ];
}

/**
 * Several signs, ticked together.
 * @param {import('./screens.js').View} view
 * @param {import('./order.js').PathNode} node
 */
function severalScreen(view, node) {
  const { state, word, send } = view;
  const told = /** @type {import('./state.js').Unwell} */ (state.unwell).ticked;
  const rows = node.ticks.map((tick) => {
    const on = told.indexOf(tick.id) >= 0;
    return h('li', {}, [button(tick.label, `tick-${tick.id}`, () => send({ type: 'tick-sign', kind: tick.id }), on ? 'left on' : 'left', { 'aria-pressed': on ? 'true' : 'false' })]);
  });
  return [
    callHead(view, node.call, node.lines.join(' ')),
    h('div', { class: 'path' }, [
      headOf(node.question),
      h('ul', { class: 'feel' }, rows),
      h('div', { class: 'foot' }, [button(word('page.notes.next'), 'ticked', () => send({ type: 'ticked' }), 'full ink', { disabled: told.length === 0 })]),
      h('p', { class: 'back' }, [quietButton(view, 'page.buttons.back', 'path-back', () => send({ type: 'path-back' }))]),
      nobodyOf(view),
    ]),
  ];
}

/**
 * @param {import('./screens.js').View} view
 * @param {string} call
 * @param {string} text
 */
function callHead(view, call, text) {
  const { order, word } = view;
  if (call === 'team') {
    return h('header', { class: 'callhead' }, [
      dial(word('page.ring-team'), order.team.tel, 'big'),
      dial(word('page.call-now'), order.emergency.tel, 'b full second'),
    ]);
  }
  return h('header', { class: 'callhead' }, [dial(word('unwell.call-now'), order.emergency.tel, 'big'), text === '' ? null : para(text)]);
}

/**
 * @param {import('./screens.js').View} view
 * @returns {string}
 */
export function waitText(view) {
  const unwell = /** @type {import('./state.js').Unwell} */ (view.state.unwell);
  const node = view.order.unwell.nodes[unwell.node];
  const left = Math.max(0, node.waitMs - (view.at - unwell.since));
  if (left === 0) return view.word('unwell.wait-over');
  const seconds = Math.ceil(left / 1000);
  return view.word('unwell.waiting-left', { minutes: String(Math.floor(seconds / 60)), seconds: String(seconds % 60) });
}

/** @param {import('./screens.js').View} view */
export function afterScreen(view) {
  const { order, word, send } = view;
  return [
    callHead(view, 'team', ''),
    h('div', { class: 'path' }, [
      headOf(word('unwell.after.head')),
      listOf(order.unwell.after, 'ul', 'plain strong-first'),
      nobodyOf(view),
      h('div', { class: 'foot' }, [button(word('page.read.head'), 'notes', () => send({ type: 'to-notes' }), 'full')]),
    ]),
  ];
}
