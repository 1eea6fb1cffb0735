// @ts-check
// The session as it is walked: one thing, its sentences, where one is, and four ways out of it.

import { button, h, para } from './dom.js';
import { cueAt } from './order.js';
import { headOf, numberForm, quietButton, topOf, unwellButton } from './screens.js';
import { easeKey } from './session.js';

/**
 * What is done now: the first way, or the easier one.
 * @param {import('./screens.js').View} view
 */
export function nowOf(view) {
  const run = /** @type {import('./state.js').Run} */ (view.state.run);
  const index = cueAt(view.order, run.doneMs);
  const cue = view.order.cues[index];
  const easy = Object.prototype.hasOwnProperty.call(run.eased, easeKey(view.order, index));
  return { index, cue, easy, doing: easy ? cue.easier : cue.doing };
}

/**
 * How to begin, where that differs from what was done just before: another place, another posture, other hands.
 * @param {import('./screens.js').View} view
 */
export function setUpOf(view) {
  const { order, word } = view;
  const { index, cue, doing } = nowOf(view);
  const before = index > 0 ? order.cues[index - 1] : null;
  if (doing.setUp === '' || doing.what === null || before === null || before.doing.what === null) return doing.setUp;
  const run = /** @type {import('./state.js').Run} */ (view.state.run);
  const wasEasy = Object.prototype.hasOwnProperty.call(run.eased, easeKey(order, index - 1));
  const was = wasEasy ? before.easier : before.doing;
  if (before.place !== cue.place && cue.place !== '') return `${word('page.session.at-place', { place: cue.place })}. ${doing.setUp}`;
  return was.setUp === doing.setUp ? '' : doing.setUp;
}

/** @param {import('./screens.js').View} view */
export function sessionScreen(view) {
  const { word, send } = view;
  const { cue, easy, doing } = nowOf(view);
  const rest = cue.title.indexOf(cue.short) === 0 ? cue.title.slice(cue.short.length) : '';
  const where = h('p', {}, [h('b', { text: rest === '' ? cue.title : cue.short }), document.createTextNode(rest)]);
  const over = [];
  if (cue.onceMore) over.push(word('page.parts.once-more'));
  if (easy) over.push(word('page.eased.head'));
  const setUp = setUpOf(view);
  /** @type {(Node | null)[]} */
  const said = [over.length > 0 ? para(over.join('. '), 'over') : null, headOf(doing.name)];
  const how = doing.what === null ? betweenOf(doing.lines, setUp) : [setUp === '' ? null : para(setUp, 'begin'), para(doing.lines.join(' '), 'one')];
  const after = [doing.care === '' ? null : para(doing.care, 'care'), doing.tempo === '' ? null : para(doing.tempo, 'quiet tempo')];
  return [
    topOf(view, where),
    h('div', { class: 'turn' }, [h('div', { class: 'figw' }, [view.figure(doing.figure)]), h('div', { class: 'say' }, said.concat(how, after))]),
    wayButton(view),
    h('div', { class: 'foot two stay' }, [
      easy
        ? button(word('page.eased.back-to'), 'ease', () => send({ type: 'as-before' }), 'small')
        : button(word('page.buttons.ease-off'), 'ease', () => send({ type: 'ease' })),
      button(word('page.buttons.rest'), 'rest', () => send({ type: 'rest' })),
      unwellButton(view),
    ]),
    para(word('page.keys.hint'), 'keys'),
  ];
}

/**
 * Between two turns: what is done now, and apart from it what comes then and how that is begun.
 * @param {string[]} lines
 * @param {string} setUp
 */
function betweenOf(lines, setUp) {
  const [now, then] = lines;
  return [
    para(now, 'one'),
    then === undefined && setUp === '' ? null : h('div', { class: 'then' }, [then === undefined ? null : h('p', {}, [h('b', { text: then })]), setUp === '' ? null : para(setUp)]),
  ];
}

/**
 * A button lies over the line of hills: digits only when they are asked for.
 * @param {import('./screens.js').View} view
 */
function wayButton(view) {
  const { word } = view;
  return h('div', { class: 'way' }, [
    view.way(),
    h('button', { type: 'button', class: 'way-b', key: 'way', click: view.toggleTime, 'aria-label': word(view.showTime ? 'page.session.hide-time' : 'page.session.show-time') }),
    h('p', { id: 'time', class: 'quiet time', text: view.showTime ? timeText(view) : '' }),
  ]);
}

/** @param {import('./screens.js').View} view */
export function timeText(view) {
  const run = /** @type {import('./state.js').Run} */ (view.state.run);
  const gone = Math.floor(run.doneMs / 60000);
  const left = Math.ceil((view.order.length - run.doneMs) / 60000);
  return view.word('page.time.gone', { minutes: String(gone), left: String(left) });
}

/** @param {import('./screens.js').View} view */
export function restScreen(view) {
  const { word } = view;
  return pausedScreen(view, word('page.resting.head'), [para(word('page.resting.text')), para(word('page.resting.go-on-when'))]);
}

/** @param {import('./screens.js').View} view */
export function awayScreen(view) {
  const { word } = view;
  const { cue } = nowOf(view);
  const turn = cue.place === '' ? cue.title : `${cue.title}, ${cue.place}`;
  return pausedScreen(view, word('page.away.head'), [para(word('page.start.stopped-at', { turn })), para(word('page.away.text'))]);
}

/**
 * @param {import('./screens.js').View} view
 * @param {string} head
 * @param {Node[]} texts
 */
function pausedScreen(view, head, texts) {
  const { word, send } = view;
  const { cue } = nowOf(view);
  const skip = cue.station === null ? null : button(word('page.buttons.skip'), 'skip', () => send({ type: 'skip' }), 'small');
  const down = cue.phase === 'cool-down' ? null : button(word('page.resting.way-down'), 'way-down', () => send({ type: 'way-down' }), 'small');
  const rest = [skip, down].filter((one) => one !== null);
  return [
    topOf(view),
    h('div', { class: 'mid low' }, [headOf(head)].concat(/** @type {any[]} */ (texts)).concat([down === null ? para('') : para(word('page.resting.way-down-why'), 'quiet')])),
    h('div', { class: rest.length === 2 ? 'foot two stay' : 'foot stay' }, [
      button(word('page.buttons.go-on'), 'go-on', () => send({ type: 'go-on' }), 'full ink tall'),
      skip,
      down,
      unwellButton(view),
    ]),
  ];
}

/** @param {import('./screens.js').View} view */
export function tooLateScreen(view) {
  const { word, send } = view;
  return [
    topOf(view),
    h('div', { class: 'mid low' }, [headOf(word('page.away.head')), para(word('page.away.long')), para(word('page.away.long-then'))]),
    h('div', { class: 'foot stay' }, [button(word('page.notes.head'), 'finish', () => send({ type: 'finish' }), 'full ink'), unwellButton(view)]),
  ];
}

/** @param {import('./screens.js').View} view */
export function pulseScreen(view) {
  return [
    topOf(view),
    h('div', { class: 'mid low' }, [headOf(view.word('page.notes.pulse-after'))]),
    pulseForm(view, 'page.notes.pulse-up'),
    h('p', { class: 'back' }, [quietButton(view, 'page.buttons.unwell', 'unwell', () => view.send({ type: 'unwell' }))]),
  ];
}

/**
 * Beats are counted, and the rate of a minute is told.
 * @param {import('./screens.js').View} view
 * @param {string} say how it is counted here
 */
export function pulseForm(view, say) {
  const { order } = view;
  const seconds = Number(order.closing.pulseS);
  // The bounds are those of the check's own row, so that nothing is saved that is refused later.
  const row = order.check.filter((one) => one.id === 'pulse')[0];
  const bounds = { unit: '', least: row.least, most: row.most, decimals: 0, countS: seconds, say };
  const forward = Object.assign({}, view, {
    send: (/** @type {any} */ event) => view.send(Object.assign({}, event, { value: event.value === null ? null : Math.round((event.value * 60) / seconds) })),
  });
  return numberForm(forward, bounds, 'pulse');
}
