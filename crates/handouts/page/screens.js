// @ts-check
// What each screen shows before and after the session.

import { isListed } from './check.js';
import { closingScreen, lastScreen, notesScreen } from './closing_screens.js';
import { button, dial, h, listOf, para } from './dom.js';
import { askedWith, fillText } from './order.js';
import { isHeld } from './state.js';
import { awayScreen, pulseScreen, restScreen, sessionScreen, tooLateScreen } from './session_screens.js';
import { afterScreen, unwellScreen } from './unwell_screens.js';

/** Screens that say below, with the number beside it, that nobody is watching. */
const QUIET_HEADS = ['start', 'not-today', 'locked', 'last', 'saved'];

/** How many of the answered questions stay in sight. */
const SHOWN = 4;

/**
 * @typedef {{order: import('./order.js').Order, state: import('./state.js').State, at: number, day: string,
 *   send: (event: {type: string} & Object<string, any>) => void, word: (id: string, values?: Object<string, string>) => string,
 *   figure: (key: string | null) => Node | null, way: () => Node, wholeWay: () => Node, showTime: boolean, toggleTime: () => void,
 *   keeps: boolean, dark: boolean, toggleRoom: () => void, speaks: boolean | null, toggleSpeech: () => void,
 *   readAll: () => void, saveFile: () => void, dateWords: (iso: string) => string}} View
 */

/**
 * @param {View} view
 * @returns {(Node | null)[]}
 */
export function screenOf(view) {
  switch (view.state.screen) {
    case 'morning':
      return morningScreen(view);
    case 'check':
      return checkScreen(view);
    case 'first':
      return firstScreen(view);
    case 'not-today':
      return notTodayScreen(view);
    case 'ready':
      return readyScreen(view);
    case 'session':
      return sessionScreen(view);
    case 'rest':
      return restScreen(view);
    case 'away':
      return awayScreen(view);
    case 'too-late':
      return tooLateScreen(view);
    case 'pulse':
      return pulseScreen(view);
    case 'unwell':
      return unwellScreen(view);
    case 'after':
      return afterScreen(view);
    case 'closing':
      return closingScreen(view);
    case 'last':
      return lastScreen(view);
    case 'saved':
      return notesScreen(view);
    case 'locked':
      return lockedScreen(view);
    default:
      return startScreen(view);
  }
}

/**
 * The head of a page: whose it is, and the telephone.
 * @param {View} view
 * @param {Node=} left
 */
export function topOf(view, left) {
  const { order, word } = view;
  const title = word('page.title');
  const rest = title.indexOf(order.called) === 0 ? title.slice(order.called.length) : ` ${title}`;
  const whose = left || h('p', {}, [h('b', { text: order.called }), document.createTextNode(rest)]);
  const alone = QUIET_HEADS.indexOf(view.state.screen) >= 0 ? null : para(word('page.nobody-watching'), 'alone');
  return h('header', { class: 'top' }, [h('div', {}, [whose, alone]), dial(word('page.call'), order.emergency.tel, 'tel')]);
}

/** @param {string} text */
export function headOf(text) {
  return h('h1', { text, tabindex: '-1', class: 'ask' });
}

/** @param {View} view */
export function unwellButton(view) {
  return button(view.word('page.buttons.unwell'), 'unwell', () => view.send({ type: 'unwell' }), 'full strong');
}

/** @param {View} view */
export function nobodyOf(view) {
  const { order, word } = view;
  return h('div', { class: 'nobody' }, [
    h('p', {}, [h('b', { text: word('page.nobody-watching') }), document.createTextNode(` ${word('page.does-not-tell')}`)]),
    dial(order.team.number, order.team.tel, 'num'),
    para(teamTimes(view), 'quiet'),
  ]);
}

/** @param {View} view */
function teamTimes(view) {
  const { order, word } = view;
  const hours = word('page.team');
  return order.team.otherwise ? `${hours}. ${word('page.out-of-hours', { text: order.team.otherwise })}` : hours;
}

/** @param {View} view */
function startScreen(view) {
  const { order, state, word, send } = view;
  const old = order.validUntil !== null && state.day > order.validUntil;
  const speech = view.speaks === null ? null : quietButton(view, view.speaks ? 'page.start.sound-off' : 'page.start.sound-on', 'speech', view.toggleSpeech);
  return [
    topOf(view),
    h('div', { class: 'mid' }, [
      headOf(word('page.start.hello')),
      para(order.sum),
      para(order.often, 'quiet'),
      isHeld(state, view.day) ? para(word('page.left.held'), 'note') : null,
      old ? para(word('page.start.older-page'), 'note') : null,
      nobodyOf(view),
      h('div', { class: 'way' }, [view.wholeWay()]),
      para(order.approval, 'quiet'),
      para(word(view.keeps ? 'page.start.storage-kept' : 'page.start.storage-lost'), view.keeps ? 'quiet' : 'note'),
      h('p', { class: 'links' }, [
        quietButton(view, 'page.start.read-all', 'read', view.readAll),
        quietButton(view, view.dark ? 'page.start.room-light' : 'page.start.room-dark', 'room', view.toggleRoom),
        speech,
      ]),
    ]),
    h('div', { class: 'foot stay' }, [
      button(word('page.start.begin'), 'begin', () => send({ type: 'begin' }), 'full ink tall'),
      unwellButton(view),
    ]),
  ];
}

/**
 * @param {View} view
 * @param {string} id
 * @param {string} key
 * @param {() => void} click
 */
export function quietButton(view, id, key, click) {
  return h('button', { type: 'button', class: 'link', text: view.word(id), key, click });
}

/** @param {View} view */
function morningScreen(view) {
  const { state, word, send } = view;
  const entry = /** @type {any} */ (state.entries.filter((/** @type {any} */ one) => one.id === state.morningFor)[0]);
  const told = (/** @type {boolean | null} */ worse) => () => send({ type: 'morning', worse });
  return [
    topOf(view),
    h('div', { class: 'mid low' }, [headOf(word('page.notes.morning-ask', { day: view.dateWords(entry.date) }))]),
    h('div', { class: 'foot' }, [
      button(word('page.notes.morning-usual'), 'usual', told(false)),
      button(word('page.notes.morning-worse'), 'worse', told(true)),
      button(word('page.notes.morning-none'), 'none', told(null)),
    ]),
    h('p', { class: 'back' }, [quietButton(view, 'page.buttons.unwell', 'unwell', () => send({ type: 'unwell' }))]),
  ];
}

/** @param {View} view */
function checkScreen(view) {
  const { order, state, word, send } = view;
  const check = /** @type {import('./state.js').Check} */ (state.check);
  const row = order.check[check.row];
  const list = isListed(check, order);
  // A number and a list need their room, and the answers must never slip under the edge: only what was answered last stands beside.
  const last = order.check.slice(Math.max(0, check.row - SHOWN), check.row);
  const passed = row.bands || list ? [] : last.map((one) => h('li', { text: one.passed }));
  const back = check.row > 0 || check.open ? quietButton(view, 'check.back', 'back', () => send({ type: 'back' })) : null;
  return [
    topOf(view),
    h('div', { class: 'mid' }, [
      para(word('check.question-of', numberOf(order, check.row)), 'quiet'),
      h('ul', { class: 'done' }, passed),
      h('div', { class: 'asked' }, [headOf(list && row.listed ? row.listed.head : row.question), list ? linesOf(order, check.row) : null, row.bands ? null : para(word('check.ask-when-in-doubt'), 'quiet')]),
    ]),
    ...answersOf(view, list, h('p', { class: 'back' }, [back, quietButton(view, 'page.buttons.unwell', 'unwell', () => send({ type: 'unwell' }))])),
  ];
}

/**
 * What can be answered, and the ways out. A list is the longest of these screens: its two answers stay in sight above the
 * ways out, also on a low phone.
 * @param {View} view
 * @param {boolean} list
 * @param {HTMLElement} ways
 */
function answersOf(view, list, ways) {
  const row = view.order.check[/** @type {import('./state.js').Check} */ (view.state.check).row];
  if (list) return [h('div', { class: 'stay list' }, [noneOrSome(view), ways])];
  return [row.bands ? numberForm(view, row, 'value') : yesNo(view, 'answer'), ways];
}

/**
 * Which of how many screens of the check this is; a list counts as one, opened or not.
 * @param {import('./order.js').Order} order
 * @param {number} row
 */
function numberOf(order, row) {
  const screens = order.check.map((_, at) => askedWith(order, at).from).filter((from, at) => from === at);
  return { number: String(screens.filter((from) => from <= row).length), count: String(screens.length) };
}

/**
 * Every row of a list in plain words.
 * @param {import('./order.js').Order} order
 * @param {number} row
 */
function linesOf(order, row) {
  const { from, to } = askedWith(order, row);
  return listOf(order.check.slice(from, to).map((one) => (one.listed ? one.listed.line : one.question)), 'ul', 'plain');
}

/** @param {View} view */
function noneOrSome(view) {
  const { word, send } = view;
  return h('div', { class: 'foot two tall some' }, [
    button(word('page.notes.none-of-these'), 'no', () => send({ type: 'list', yes: false })),
    button(word('check.list.some'), 'yes', () => send({ type: 'list', yes: true })),
  ]);
}

/**
 * @param {View} view
 * @param {string} type
 */
export function yesNo(view, type) {
  const { word, send } = view;
  return h('div', { class: 'foot two tall' }, [
    button(word('page.buttons.no'), 'no', () => send({ type, yes: false })),
    button(word('page.buttons.yes'), 'yes', () => send({ type, yes: true })),
  ]);
}

/**
 * A number with its unit; what lies outside of what can be is said, not sent.
 * @param {View} view
 * @param {{unit?: string, least?: number, most?: number, decimals?: number, countS?: number | null, say?: string}} row
 * @param {string} type
 */
export function numberForm(view, row, type) {
  const { word, send } = view;
  const beats = row.countS ? word('page.notes.beats', { seconds: String(row.countS) }) : row.unit || '';
  const perBeat = row.countS ? row.countS / 60 : 1;
  const least = Math.ceil(Number(row.least) * perBeat);
  const most = Math.floor(Number(row.most) * perBeat);
  const problem = h('p', { class: 'note', role: 'alert' });
  const input = /** @type {HTMLInputElement} */ (h('input', { id: 'number', key: 'number', inputmode: row.decimals ? 'decimal' : 'numeric', autocomplete: 'off', 'aria-describedby': 'unit' }));
  const submit = (/** @type {Event} */ event) => {
    event.preventDefault();
    const value = Number(input.value.trim().replace(',', '.'));
    if (input.value.trim() === '' || !(value >= least && value <= most)) {
      problem.textContent = word('check.between', { least: String(least), most: String(most) });
      input.focus();
      return;
    }
    send({ type, value });
  };
  return h('form', { class: 'foot two number', submit }, [
    row.countS ? para(word(row.say || 'page.notes.pulse-sit', { seconds: String(row.countS) }), 'full quiet') : null,
    h('p', { class: 'entry' }, [input]),
    h('label', { for: 'number', id: 'unit', class: 'entry', text: beats }),
    problem,
    h('button', { type: 'submit', class: 'b ink', text: word('check.enter'), key: 'enter' }),
    button(word('check.leave-out'), 'leave-out', () => send({ type, value: null }), 'small'),
  ]);
}

/** @param {View} view */
function firstScreen(view) {
  const { state, word, send } = view;
  const check = /** @type {import('./state.js').Check} */ (state.check);
  return [
    topOf(view),
    h('div', { class: 'mid low' }, [headOf(check.first)]),
    h('div', { class: 'foot stay' }, [
      button(word('page.buttons.go-on'), 'again', () => send({ type: 'again' }), 'full ink'),
      button(word('page.left.give-up'), 'leave', () => send({ type: 'leave' }), 'full'),
      unwellButton(view),
    ]),
  ];
}

/** @param {View} view */
function notTodayScreen(view) {
  const { order, state, word, send } = view;
  const held = /** @type {import('./state.js').Held} */ (state.held);
  return [
    topOf(view),
    h('div', { class: 'mid low' }, [
      headOf(held.reason),
      para(word('check.outcome.leave-why')),
      para(word('check.outcome.leave-not-lost')),
      nobodyOf(view),
      para(word('page.left.notes-kept'), 'quiet'),
    ]),
    h('div', { class: 'foot stay' }, [
      dial(word('page.ring-team'), order.team.tel, 'b full ink'),
      button(word('page.buttons.close'), 'home', () => send({ type: 'home' })),
      unwellButton(view),
    ]),
  ];
}

/** @param {View} view */
function readyScreen(view) {
  const { order, word, send } = view;
  return [
    topOf(view),
    h('div', { class: 'mid' }, [headOf(word('page.ready.head')), listOf(order.ready, 'ol', 'ready')]),
    h('div', { class: 'foot stay' }, [
      button(word('page.ready.all-ready'), 'ready', () => send({ type: 'ready' }), 'full ink tall'),
      unwellButton(view),
    ]),
    h('p', { class: 'back' }, [quietButton(view, 'page.buttons.back', 'back', () => send({ type: 'back' }))]),
  ];
}

/** @param {View} view */
function lockedScreen(view) {
  const { order, state, word } = view;
  const lock = /** @type {import('./state.js').Lock} */ (state.lock);
  return [
    topOf(view),
    h('div', { class: 'mid low' }, [
      headOf(word('page.locked.head')),
      para(fillText(word('page.locked.since'), { when: view.dateWords(lock.on) })),
      h('p', {}, [h('b', { text: word('page.locked.until') })]),
      para(word('page.locked.after')),
      nobodyOf(view),
      h('p', { class: 'links' }, [
        quietButton(view, 'page.start.read-all', 'read', view.readAll),
        quietButton(view, 'page.read.file', 'file', view.saveFile),
      ]),
    ]),
    h('div', { class: 'foot stay' }, [dial(word('page.ring-team'), order.team.tel, 'b full ink'), unwellButton(view)]),
  ];
}
