// @ts-check
// Wiring: clock, storage, keys, the walking dot, and showing a screen when it changes.

import { diaryFile } from './diary.js';
import { moveDot } from './dot.js';
import { onKey } from './keys.js';
import { dateWords, fillText, readOrder } from './order.js';
import { screenOf } from './screens.js';
import { nowOf, timeText } from './session_screens.js';
import { reduce } from './state.js';
import { makeStore } from './store.js';
import { waitIsOver } from './unwell.js';
import { waitText } from './unwell_screens.js';

const TICK_MS = 500;
const SAVE_EVERY_MS = 3000;

/** Starts the page. */
export function start() {
  const holder = /** @type {HTMLElement} */ (document.getElementById('order'));
  const order = readOrder(holder.textContent || '');
  const app = /** @type {HTMLElement} */ (document.getElementById('app'));
  const whole = /** @type {HTMLElement} */ (document.getElementById('whole'));
  // A test may put its own clock here; without one it is the device's.
  const clock = /** @type {any} */ (window).hearthpaceClock || { now: () => Date.now() };
  const store = makeStore(storageOf(), order.caseId);
  const page = {
    state: store.load(),
    keeps: store.proves(),
    shown: '',
    screen: '',
    showTime: false,
    dark: false,
    speaks: 'speechSynthesis' in window ? false : null,
    savedAt: 0,
    said: '',
    awake: /** @type {any} */ (null),
  };
  page.dark = roomIsDark(window);
  setRoom(page.dark);

  const word = (/** @type {string} */ id, /** @type {Object<string, string>=} */ values) => fillText(order.words[id] === undefined ? id : order.words[id], values || {});
  const send = (/** @type {any} */ event) => {
    const at = clock.now();
    const before = page.state;
    page.state = reduce(before, Object.assign({ at, day: dayOf(at), id: idOf(at) }, event), order);
    const quiet = event.type === 'tick';
    if (page.state !== before && (!quiet || at - page.savedAt >= SAVE_EVERY_MS)) {
      page.savedAt = at;
      if (!store.save(page.state)) page.keeps = false;
    }
    show(at);
  };
  const view = (/** @type {number} */ at) => ({
    order,
    state: page.state,
    at,
    day: dayOf(at),
    send,
    word,
    figure: figureOf,
    way: () => copyOf('way-template'),
    wholeWay: () => copyOf('whole-way-template'),
    showTime: page.showTime,
    toggleTime: () => {
      page.showTime = !page.showTime;
      redraw();
    },
    keeps: page.keeps,
    dark: page.dark,
    toggleRoom: () => {
      page.dark = !page.dark;
      setRoom(page.dark);
      redraw();
    },
    speaks: page.speaks,
    toggleSpeech: () => {
      page.speaks = !page.speaks;
      if (!page.speaks) window.speechSynthesis.cancel();
      redraw();
    },
    readAll: () => showWhole(true),
    saveFile: () => saveFile(diaryFile(page.state, order), `diary-${page.state.day}.json`),
    dateWords: (/** @type {string} */ iso) => dateWords(iso, order),
  });

  /** @param {number} at */
  function show(at) {
    const now = view(at);
    const mark = markOf(now, page.showTime, page.dark, page.speaks);
    if (mark !== page.shown) {
      const changed = page.screen !== screenMark(now);
      const focused = changed ? null : keyOfFocus();
      app.textContent = '';
      screenOf(now).forEach((node) => {
        if (node) app.appendChild(node);
      });
      app.setAttribute('data-screen', page.state.screen);
      page.shown = mark;
      page.screen = screenMark(now);
      focusOn(app, focused);
      if (changed) window.scrollTo(0, 0);
      speak(now, page);
      keepAwake(page, page.state.screen === 'session');
    }
    if (page.state.run) moveDot(order, page.state.run.doneMs, nowOf(now).cue.place);
    const wait = document.getElementById('wait');
    if (wait && page.state.unwell) wait.textContent = waitText(now);
    const time = document.getElementById('time');
    if (time && page.showTime && page.state.run) time.textContent = timeText(now);
  }

  const redraw = () => {
    page.shown = '';
    show(clock.now());
  };

  const showWhole = (/** @type {boolean} */ on) => {
    whole.hidden = !on;
    app.hidden = on;
    window.scrollTo(0, 0);
  };
  const back = document.getElementById('back-to-app');
  if (back) back.addEventListener('click', () => showWhole(false));

  document.documentElement.classList.add('js');
  whole.hidden = true;
  app.hidden = false;
  send({ type: 'open' });
  window.setInterval(() => send({ type: 'tick' }), TICK_MS);
  document.addEventListener('visibilitychange', () => {
    if (document.hidden) send({ type: 'hide' });
    else show(clock.now());
  });
  window.addEventListener('pagehide', () => {
    send({ type: 'hide' });
    store.save(page.state);
  });
  document.addEventListener('keydown', (event) => onKey(event, page, send, app));
}

/** @returns {Storage | null} */
function storageOf() {
  try {
    return window.localStorage;
  } catch (refused) {
    return null;
  }
}

/**
 * The day here, as it is written in the diary.
 * @param {number} at
 */
export function dayOf(at) {
  const date = new Date(at);
  const two = (/** @type {number} */ value) => (value < 10 ? `0${value}` : String(value));
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/**
 * An id for a session: its moment, and a little chance, so that two devices never make the same.
 * @param {number} at
 */
function idOf(at) {
  const bytes = new Uint8Array(4);
  if (window.crypto && window.crypto.getRandomValues) window.crypto.getRandomValues(bytes);
  let tail = '';
  bytes.forEach((byte) => {
    tail += (byte % 36).toString(36);
  });
  return `${dayOf(at)}-${Math.floor(at / 1000).toString(36)}-${tail}`;
}

/**
 * What decides that a screen is drawn anew; a tick alone never does.
 * @param {import('./screens.js').View} view
 * @param {boolean} showTime
 * @param {boolean} dark
 * @param {boolean | null} speaks
 */
function markOf(view, showTime, dark, speaks) {
  const { state, order } = view;
  const parts = [screenMark(view), showTime, dark, speaks, view.keeps];
  if (state.closing) parts.push(state.closing.signs.join(','));
  if (state.unwell) parts.push(state.unwell.ticked.join(','));
  if (state.unwell) parts.push(String(waitIsOver(state.unwell, order.unwell.nodes[state.unwell.node], view.at)));
  return parts.join('|');
}

/** @param {import('./screens.js').View} view */
function screenMark(view) {
  const state = view.state;
  const parts = [state.screen];
  if (state.check) parts.push(`${state.check.row} ${state.check.open}`);
  if (state.run && (state.screen === 'session' || state.screen === 'rest' || state.screen === 'away')) {
    const now = nowOf(view);
    parts.push(String(now.index), String(now.easy));
  }
  if (state.unwell) parts.push(state.unwell.trail.join('>'));
  if (state.closing) parts.push(state.closing.step);
  return parts.join('|');
}

function keyOfFocus() {
  const active = document.activeElement;
  return active instanceof HTMLElement ? active.getAttribute('data-key') : null;
}

/**
 * @param {HTMLElement} app
 * @param {string | null} key
 */
function focusOn(app, key) {
  const same = key === null ? null : app.querySelector(`[data-key="${key}"]`);
  const target = same || app.querySelector('#number') || app.querySelector('h1');
  if (target instanceof HTMLElement) target.focus({ preventScroll: true });
}

/** @param {string | null} key */
function figureOf(key) {
  const found = key === null ? null : document.querySelector(`[data-fig="${key}"] svg`);
  return found === null ? null : found.cloneNode(true);
}

/** @param {string} id */
function copyOf(id) {
  const found = /** @type {HTMLElement} */ (document.getElementById(id));
  return /** @type {Node} */ (/** @type {Element} */ (found.querySelector('svg')).cloneNode(true));
}

/** @param {Window} win */
function roomIsDark(win) {
  return typeof win.matchMedia === 'function' && win.matchMedia('(prefers-color-scheme: dark)').matches;
}

/** @param {boolean} dark */
function setRoom(dark) {
  document.documentElement.setAttribute('data-room', dark ? 'dark' : 'light');
}

/**
 * @param {import('./screens.js').View} view
 * @param {{speaks: boolean | null, said: string, screen: string}} page
 */
function speak(view, page) {
  if (!page.speaks || page.said === page.screen) return;
  page.said = page.screen;
  const app = /** @type {HTMLElement} */ (document.getElementById('app'));
  const parts = Array.prototype.slice.call(app.querySelectorAll('.over, h1, .one, .say-now, h2')).map((/** @type {Element} */ one) => one.textContent || '');
  const words = new SpeechSynthesisUtterance(parts.join('. '));
  words.lang = document.documentElement.lang;
  window.speechSynthesis.cancel();
  window.speechSynthesis.speak(words);
}

/**
 * The screen stays on during the session where the device allows it; nothing depends on it.
 * @param {{awake: any}} page
 * @param {boolean} on
 */
function keepAwake(page, on) {
  const lock = /** @type {any} */ (navigator).wakeLock;
  if (!lock) return;
  if (!on && page.awake) {
    page.awake.release();
    page.awake = null;
  } else if (on && !page.awake) {
    lock.request('screen').then(
      (/** @type {any} */ held) => {
        page.awake = held;
        held.addEventListener('release', () => {
          page.awake = null;
        });
      },
      () => {}
    );
  }
}

/**
 * @param {string} text
 * @param {string} name
 */
function saveFile(text, name) {
  const address = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  document.body.appendChild(link);
  link.click();
  document.body.removeChild(link);
  window.setTimeout(() => URL.revokeObjectURL(address), 10000);
}
