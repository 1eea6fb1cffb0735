// The running order of the invented person, as Rust wrote it, and a hand that plays events.
import { readFileSync } from 'node:fs';
import { isListed } from '../check.js';
import { readOrder } from '../order.js';
import { freshState, reduce } from '../state.js';

/** @param {string=} which */
export function loadOrder(which) {
  const folder = process.env.HANDOUTS_ORDERS;
  if (!folder) throw new Error('HANDOUTS_ORDERS names the folder with the orders that the Rust test writes');
  return readOrder(readFileSync(`${folder}/${which || 'signed'}.json`, 'utf8'));
}

/** Plays events against an order with a clock that only it moves. */
export class Player {
  constructor(order, state) {
    this.order = order;
    this.at = Date.UTC(2026, 10, 26, 10, 0, 0);
    this.day = '2026-11-26';
    this.ids = 0;
    this.state = state || freshState();
  }

  send(type, more) {
    this.ids += 1;
    const event = Object.assign({ type, at: this.at, day: this.day, id: `id-${this.ids}` }, more || {});
    this.state = reduce(this.state, event, this.order);
    return this;
  }

  /** Walks so many ms in ticks of half a second. */
  walk(ms) {
    const until = this.at + ms;
    while (this.at < until) {
      this.at += Math.min(500, until - this.at);
      this.send('tick');
    }
    return this;
  }

  /** Opens the page, answers every question with no and every number in its range, and begins. */
  toReady() {
    this.send('open').send('begin');
    if (this.state.screen === 'morning') this.send('morning', { worse: null });
    for (let i = 0; this.state.screen === 'check' && i < 40; i += 1) {
      this.passOne(i % 2 === 0);
    }
    return this;
  }

  /** Answers what is asked with no, or with a number in its range; a list whole or row by row. */
  passOne(whole) {
    const row = this.order.check[this.state.check.row];
    if (row.bands) return this.send('value', { value: row.id === 'sugar' ? 7 : 66 });
    if (isListed(this.state.check, this.order)) return this.send('list', { yes: !whole });
    return this.send('answer', { yes: false });
  }

  /** Opens the page and goes to a row, every list on the way asked one by one. */
  toRow(id) {
    this.send('open').send('begin');
    const there = () => this.order.check[this.state.check.row].id === id && !isListed(this.state.check, this.order);
    for (let i = 0; i < 80 && !there(); i += 1) this.passOne(false);
    return this;
  }

  toSession() {
    return this.toReady().send('ready');
  }

  /** Walks to the moment at which a cue begins. */
  toCue(index) {
    const cue = this.order.cues[index];
    const left = cue.start - this.state.run.doneMs;
    this.walk(left);
    if (this.state.screen === 'pulse') {
      this.send('pulse', { value: null });
      this.toCue(index);
    }
    return this;
  }

  /** Walks to the end of the session and to its first question, leaving the pulses out. */
  toClosing() {
    this.toEnd();
    if (this.state.closing.step === 'pulse') this.send('pulse', { value: null });
    return this;
  }

  /** Walks to the end of the session, leaving the pulse after the last turn out. */
  toEnd() {
    for (let i = 0; this.state.screen !== 'closing' && i < 5; i += 1) {
      this.walk(this.order.length - this.state.run.doneMs + 500);
      if (this.state.screen === 'pulse') this.send('pulse', { value: null });
    }
    return this;
  }

  entry() {
    return this.state.entries[this.state.entries.length - 1];
  }

  /** The page is closed and opened again: only what was kept comes back. */
  reload() {
    this.state = JSON.parse(JSON.stringify(this.state));
    return this.send('open');
  }
}

export function play(which) {
  return new Player(loadOrder(which));
}

/** The first cue of a kind. */
export function cueOf(order, kind) {
  return order.cues.findIndex((cue) => cue.kind === kind);
}
