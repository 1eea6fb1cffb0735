// Laws that hold whatever is pressed, in whatever order, however long it takes.
import assert from 'node:assert/strict';
import test from 'node:test';
import { isHeld, isLocked } from '../state.js';
import { Player, loadOrder } from './fixture.js';

const TYPES = ['open', 'begin', 'afresh', 'home', 'ready', 'answer', 'list', 'value', 'back', 'again', 'tick', 'rest', 'go-on', 'ease', 'as-before', 'skip', 'way-down', 'hide', 'finish', 'unwell', 'choose', 'path-back', 'pulse', 'effort', 'sign', 'signs-told', 'no-sign', 'usual', 'spray', 'joint', 'weight', 'morning', 'to-notes', 'leave', 'tick-sign', 'ticked', 'nothing-known'];

/** A small generator, so that a failure can be played again by its seed. */
function chance(seed) {
  let x = seed >>> 0;
  return (n) => {
    x = (Math.imul(x, 1664525) + 1013904223) >>> 0;
    return Math.floor((x / 4294967296) * n);
  };
}

function eventOf(pick) {
  const more = { yes: pick(4) === 0, value: [null, 4, 66, 120, 7][pick(5)], index: pick(6), kind: ['chest-discomfort', 'tiredness', 'dizziness', 'chest', 'breathless'][pick(5)], usual: pick(2) === 0, worse: [true, false, null][pick(3)] };
  return { type: TYPES[pick(TYPES.length)], more };
}

test('no sequence of events breaks the page, loses an entry, or begins a session on a closed page', () => {
  for (const which of ['signed', 'ill']) {
    const order = loadOrder(which);
    for (let seed = 1; seed <= 250; seed += 1) {
      const pick = chance(seed);
      const player = new Player(order);
      player.send('open');
      for (let i = 0; i < 160; i += 1) {
        const before = player.state;
        const { type, more } = eventOf(pick);
        player.at += [0, 400, 4000, 60000, 700000][pick(5)];
        if (pick(25) === 0) player.reload();
        player.send(type, more);
        const state = player.state;
        const told = `${which} seed ${seed} step ${i} ${type}`;
        assert.equal(typeof state.screen, 'string', told);
        if (state.unwell === null && isLocked(state.lock, order)) {
          assert.ok(!['session', 'check', 'ready', 'rest', 'pulse'].includes(state.screen), `${told}: ${state.screen}`);
        }
        if (isHeld(state, player.day)) assert.ok(!['session', 'check', 'ready', 'rest', 'pulse'].includes(state.screen), `${told}: held`);
        if (state.unwell !== null && state.unwell.nitrate) assert.ok(isLocked(state.lock, order), `${told}: spray`);
        if (state.screen === 'session') assert.ok(state.run !== null && state.run.doneMs <= order.length, told);
        // Entries only go when the path they came from is taken back.
        if (state.entries.length < before.entries.length) assert.ok(before.unwell !== null, told);
        JSON.parse(JSON.stringify(state));
      }
    }
  }
});

test('no way through a session that was gone on with leaves the way down out', () => {
  const order = loadOrder();
  for (let seed = 1; seed <= 60; seed += 1) {
    const pick = chance(seed * 7919);
    const player = new Player(order).toSession();
    let longest = 0;
    for (let i = 0; i < 4000 && player.state.screen !== 'closing'; i += 1) {
      const roll = pick(40);
      if (roll === 0) player.send('rest');
      else if (roll === 1) player.send('skip');
      else if (roll === 2) player.send('way-down');
      else if (roll === 3) player.send('ease');
      if (player.state.screen === 'rest' || player.state.screen === 'away') player.send('go-on');
      if (player.state.screen === 'pulse') player.send('pulse', { value: null });
      const run = player.state.run;
      if (run !== null && run.doneMs >= order.wayDown) longest += 2000;
      player.walk(2000);
    }
    assert.equal(player.state.screen, 'closing', `seed ${seed}`);
    assert.ok(longest >= order.length - order.wayDown - 2000, `seed ${seed}: ${longest}`);
  }
});
