// The day check: it cannot be passed without an answer to every row.
import assert from 'node:assert/strict';
import test from 'node:test';
import { rateOf } from '../check.js';
import { askedWith } from '../order.js';
import { play } from './fixture.js';

test('all answers no lead to what is made ready, then to the session', () => {
  const player = play().toReady();
  assert.equal(player.state.screen, 'ready');
  assert.equal(player.send('ready').state.screen, 'session');
});

test('nothing but answers gets past the questions', () => {
  const player = play().send('open').send('begin');
  for (const type of ['ready', 'go-on', 'rest', 'tick', 'again', 'skip', 'way-down', 'finish', 'value', 'effort', 'home-not', 'hide', 'ease', 'pulse', 'list']) {
    player.send(type, { value: 66 });
    assert.equal(player.state.screen, 'check', type);
    assert.equal(player.state.check.row, 0, type);
    assert.equal(player.state.run, null, type);
  }
});

test('every yes does what the running order says', () => {
  const rows = play('ill').order.check;
  rows.forEach((row) => {
    if (!row.yes) return;
    const player = play('ill').toRow(row.id).send('answer', { yes: true });
    assert.equal(player.state.screen, row.yes.kind, row.id);
    if (row.yes.kind === 'first') return;
    if (row.yes.kind === 'unwell') assert.equal(player.state.unwell.node, row.yes.node);
    else assert.equal(player.entry().stopped_because, `day check: ${row.id}`);
    assert.equal(player.entry().minutes, 0, 'of no minutes: no session was done');
  });
});

test('a number is compared with the bounds it came with, and nothing impossible is taken', () => {
  const at = (value) => {
    return play().toRow('pulse').send('value', { value }).state;
  };
  assert.equal(at(66).screen, 'ready');
  assert.equal(at(99).screen, 'ready');
  assert.equal(at(100).screen, 'not-today');
  assert.equal(at(39).screen, 'not-today');
  assert.equal(at(40).screen, 'ready');
  for (const impossible of [0, 999, NaN, -5]) assert.equal(at(impossible).screen, 'check', String(impossible));
  assert.equal(at(null).screen, 'ready', 'what was not measured is not invented');
  assert.deepEqual(at(null).check.values, {});
});

test('beats counted over half a minute are doubled', () => {
  assert.equal(rateOf(33, 30), 66);
  assert.equal(rateOf(66, 60), 66);
  assert.equal(rateOf(6.4, null), 6.4);
});

test('low sugar is treated first, very low sugar goes to the unwell path, high sugar leaves the day', () => {
  const at = (value) => {
    return play('ill').toRow('sugar').send('value', { value });
  };
  const eats = at(4.5);
  assert.equal(eats.state.screen, 'first');
  assert.equal(eats.send('again').state.screen, 'check');
  assert.equal(eats.send('value', { value: 6 }).state.screen === 'first', false);
  assert.equal(at(3.0).state.screen, 'unwell');
  assert.equal(at(13.9).state.screen, 'not-today');
});

/** Answers everything well up to a row. */
const upTo = (player, id) => player.toRow(id);

test('what leaves the day out is told to the diary as the symptom that it is', () => {
  const told = (which, id) => {
    const player = upTo(play(which), id).send('answer', { yes: true });
    return { symptoms: player.entry().symptoms, locked: player.state.lock !== null, entry: player.entry() };
  };
  const chest = told('usual', 'chest-usual');
  assert.deepEqual(chest.symptoms, [{ kind: 'chest-discomfort', usual: false }]);
  assert.equal(chest.locked, true, 'changed chest discomfort closes the page');
  assert.deepEqual(told('ill', 'swelling').symptoms, [{ kind: 'swelling', usual: false }]);
  assert.deepEqual(told('ill', 'fall').symptoms, [{ kind: 'fall' }]);
  assert.deepEqual(told('signed', 'leg').symptoms, [{ kind: 'leg-pain' }]);
  assert.equal(told('ill', 'weight-gain').locked, true);
  assert.deepEqual(told('signed', 'spray').symptoms, [{ kind: 'other', nitrate_used: true }]);
  assert.equal(told('signed', 'spray').locked, true);
  assert.equal(told('signed', 'tired').locked, false);
  const tablets = told('signed', 'tablets');
  assert.equal(tablets.symptoms, undefined, 'nothing is invented');
  assert.equal(tablets.entry.medicine_change, 'told in the day check');
});

test('an answer that leaves the day out holds for that day, whatever is pressed, and not for the next', () => {
  const player = upTo(play(), 'ill').send('answer', { yes: true });
  assert.equal(player.state.screen, 'not-today');
  const entries = player.state.entries.length;
  for (const type of ['answer', 'again', 'back', 'ready', 'home', 'begin', 'answer', 'afresh', 'open', 'begin', 'ready']) {
    player.send(type, { yes: false });
    assert.ok(['not-today', 'start'].includes(player.state.screen), `${type}: ${player.state.screen}`);
  }
  player.reload().send('begin');
  assert.equal(player.state.screen, 'not-today');
  assert.equal(player.state.entries.length, entries);
  player.day = '2026-11-27';
  assert.equal(player.reload().send('begin').state.screen, 'check');
});

test('sugar that was not measured is measured first, and counts for nothing', () => {
  const player = upTo(play('ill'), 'sugar').send('value', { value: null });
  assert.equal(player.state.screen, 'first');
  assert.equal(player.send('again').state.check.row, player.order.check.findIndex((row) => row.id === 'sugar'));
  player.send('value', { value: null }).send('leave');
  assert.equal(player.state.screen, 'not-today');
  assert.equal(player.entry().stopped_because, 'day check: sugar');
  assert.equal(player.send('home').send('begin').state.screen, 'not-today');
});

test('one question back, and not before the first', () => {
  const player = play().send('open').send('begin').send('answer', { yes: false }).send('back');
  assert.equal(player.state.check.row, 0);
  assert.equal(player.send('back').state.check.row, 0);
});

test('a slip of the finger on yes can be taken back as long as nothing more was answered', () => {
  const player = play().send('open').send('begin').send('answer', { yes: true });
  assert.equal(player.state.screen, 'unwell');
  assert.notEqual(player.state.lock, null);
  player.send('path-back');
  assert.equal(player.state.screen, 'check');
  assert.equal(player.state.lock, null);
  assert.deepEqual(player.state.entries, []);
});

test('a list stands whole, is passed by its one answer, and by none that was meant for a row', () => {
  const player = play().toRow('spray').send('answer', { yes: false });
  const { from, to } = askedWith(player.order, player.state.check.row);
  assert.ok(to - from > 1, 'a list of several rows');
  for (const yes of [true, false]) {
    player.send('answer', { yes });
    assert.equal(player.state.check.row, from, 'an answer to one row does not count for a list');
  }
  for (const yes of [null, undefined]) assert.equal(player.send('list', { yes }).state.check.row, from);
  assert.equal(player.send('list', { yes: false }).state.check.row, to);
  assert.deepEqual(player.state.entries, []);
});

test('yes to a list asks each of its rows, and whichever is so does what the running order says', () => {
  const { order } = play('ill');
  order.check.filter((row) => row.listed !== null).forEach((row) => {
    const player = play('ill').toRow(row.id);
    assert.equal(player.state.check.open, true, row.id);
    player.send('answer', { yes: true });
    assert.equal(player.state.screen, 'not-today', row.id);
    assert.equal(player.entry().stopped_because, `day check: ${row.id}`);
  });
});

test('what may stop everything is never in a list, and no list is longer than a low screen', () => {
  for (const which of ['signed', 'usual', 'ill']) {
    const { order } = play(which);
    order.check.forEach((row, at) => {
      if (row.listed === null) return;
      assert.equal(row.yes.kind, 'not-today', row.id);
      assert.equal(row.told.lock, false, row.id);
      assert.ok(row.listed.line.length > 0 && row.listed.head.length > 0, row.id);
      const { from, to } = askedWith(order, at);
      assert.ok(to - from > 1 && to - from <= 4, row.id);
    });
  }
});

test('back from a list goes to what was asked before, and from its rows to the row before or the list', () => {
  const player = play().toRow('spray').send('answer', { yes: false });
  const from = player.state.check.row;
  player.send('list', { yes: true }).send('answer', { yes: false });
  assert.deepEqual([player.state.check.row, player.state.check.open], [from + 1, true]);
  player.send('back');
  assert.deepEqual([player.state.check.row, player.state.check.open], [from, true]);
  player.send('back');
  assert.deepEqual([player.state.check.row, player.state.check.open], [from, false]);
  assert.equal(player.send('back').state.check.row, from - 1);
  player.send('answer', { yes: false }).send('list', { yes: false }).send('back');
  assert.deepEqual([player.state.check.row, player.state.check.open], [from, false], 'a passed list is asked again whole');
});
