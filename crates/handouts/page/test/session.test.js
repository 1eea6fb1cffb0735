// The session in time: rest, ease, leave out, the way down, and whatever interrupts it.
import assert from 'node:assert/strict';
import test from 'node:test';
import { readLines } from '../diary.js';
import { cueAt } from '../order.js';
import { easeKey } from '../session.js';
import { cueOf, play } from './fixture.js';

test('walked to its end it comes to the questions with every turn done', () => {
  const player = play().toSession().toClosing();
  assert.equal(player.state.screen, 'closing');
  assert.equal(player.state.run.done.length, player.order.stations);
  assert.equal(player.entry().stations_done, player.order.stations);
});

test('rest stops the time and is counted', () => {
  const player = play().toSession().walk(10000).send('rest');
  const done = player.state.run.doneMs;
  player.walk(60000);
  assert.equal(player.state.run.doneMs, done);
  player.send('go-on');
  assert.equal(player.state.screen, 'session');
  assert.equal(player.state.run.restedMs, 60000);
  player.walk(1000);
  assert.equal(player.state.run.doneMs, done + 1000);
});

test('easing holds for this exercise, also in the next round, and can be taken back', () => {
  const player = play('two-rounds').toSession();
  const first = cueOf(player.order, 'brisk');
  player.toCue(first).send('ease');
  const key = easeKey(player.order, first);
  assert.ok(key in player.state.run.eased);
  const again = player.order.cues.findIndex((cue, i) => i > first && cue.doing.what === player.order.cues[first].doing.what && cue.round === 2);
  assert.equal(easeKey(player.order, again), key);
  player.send('as-before');
  assert.deepEqual(player.state.run.eased, {});
  player.send('ease').toClosing();
  assert.deepEqual(player.entry().eased, [player.order.cues[first].doing.exercise]);
});

test('a turn that is left out is not done; getting warm and the way down cannot be left out', () => {
  const player = play().toSession().walk(2000).send('rest').send('skip');
  assert.equal(cueAt(player.order, player.state.run.doneMs), 0, 'the warm-up stays');
  const brisk = cueOf(player.order, 'brisk');
  player.toCue(brisk).send('rest').send('skip');
  assert.equal(cueAt(player.order, player.state.run.doneMs), brisk + 1);
  assert.deepEqual(player.state.run.left, [1]);
  player.toClosing();
  assert.equal(player.entry().stations_done, player.order.stations - 1);
});

test('stopping early is the way down, never the end', () => {
  const player = play().toSession().toCue(cueOf(play().order, 'brisk')).send('rest').send('way-down');
  assert.equal(player.state.screen, 'session');
  assert.equal(player.order.cues[cueAt(player.order, player.state.run.doneMs)].phase, 'cool-down');
  player.send('rest').send('skip');
  assert.equal(player.order.cues[cueAt(player.order, player.state.run.doneMs)].phase, 'cool-down');
  player.toClosing();
  assert.equal(player.entry().stopped_because, 'went to the way down early');
  assert.equal(player.entry().stations_done, 0);
});

test('going to the way down never goes back in time', () => {
  const player = play().toSession();
  const last = player.order.cues.length - 1;
  player.toCue(last);
  const done = player.state.run.doneMs;
  player.send('rest').send('way-down');
  assert.ok(player.state.run.doneMs >= done);
});

test('a page that was not seen waits: hidden, locked, asleep', () => {
  const hidden = play().toSession().walk(20000).send('hide');
  assert.equal(hidden.state.screen, 'away');
  hidden.at += 60000;
  hidden.send('go-on');
  assert.equal(hidden.state.run.doneMs, 20000);
  assert.equal(hidden.state.run.restedMs, 60000);
  const asleep = play().toSession().walk(20000);
  asleep.at += 120000;
  asleep.send('tick');
  assert.equal(asleep.state.screen, 'away');
  assert.equal(asleep.state.run.doneMs, 20000);
});

test('after too long a session is not gone on with, only told', () => {
  const player = play().toSession().walk(20000).send('hide');
  player.at += player.order.resumeWithin + 1;
  player.send('go-on');
  assert.equal(player.state.screen, 'too-late');
  player.send('go-on').send('ready').send('skip').send('way-down');
  assert.equal(player.state.screen, 'too-late');
  player.send('finish');
  assert.equal(player.state.screen, 'closing');
  assert.equal(player.entry().stopped_because, 'interrupted');
});

test('resting for too long is the same', () => {
  const player = play().toSession().walk(20000).send('rest').walk(play().order.resumeWithin + 2000);
  assert.equal(player.state.screen, 'too-late');
});

test('closed and opened again nothing is lost', () => {
  const player = play().toSession().toCue(8).send('ease').walk(7000);
  const before = player.state.run;
  player.at += 30000;
  player.reload();
  assert.equal(player.state.screen, 'away');
  assert.deepEqual(player.state.run.eased, before.eased);
  assert.equal(player.state.run.doneMs, before.doneMs);
  assert.deepEqual(player.state.run.done, before.done);
  player.send('go-on');
  assert.equal(player.state.screen, 'session');
  player.at += player.order.resumeWithin + 20000;
  player.reload();
  assert.equal(player.state.screen, 'too-late');
});

test('a clock that jumps back loses no time and invents none', () => {
  const player = play().toSession().walk(20000);
  player.at -= 3600000;
  player.send('tick');
  assert.equal(player.state.run.doneMs, 20000);
});

test('the pulse is asked once, a minute after the last turn, and may be left out', () => {
  const player = play().toSession();
  while (player.state.screen === 'session') player.walk(500);
  assert.equal(player.state.screen, 'pulse');
  const gone = player.state.run.doneMs - lastBriskEnd(player.order);
  assert.ok(gone >= 60000 && gone < 61000, String(gone));
  player.send('pulse', { value: 84 }).toEnd();
  assert.deepEqual(player.entry().pulses.map((one) => [one.at, one.bpm]), [['before', 66], ['60-s-after', 84]]);
});

test('the pulse is asked again when the way down is over, and may be left out', () => {
  const player = play().toSession().toEnd();
  assert.equal(player.state.closing.step, 'pulse');
  assert.equal(player.entry().stations_done, player.order.stations, 'what was done is told already');
  assert.equal(player.entry().symptoms, undefined, 'not asked is not none');
  const left = play().toSession().toEnd().send('pulse', { value: null });
  assert.equal(left.state.closing.step, 'effort');
  assert.deepEqual(left.entry().pulses.map((one) => one.at), ['before']);
  player.send('pulse', { value: 70 });
  assert.equal(player.state.closing.step, 'effort');
  const told = [['before', 66, 'count-60s'], ['after-cool-down', 70, 'count-60s']];
  assert.deepEqual(player.entry().pulses.map((one) => [one.at, one.bpm, one.how]), told);
  assert.ok(readLines(player.entry(), player.order).includes('Pulse at the end: 70'));
  player.send('back');
  assert.equal(player.state.closing.step, 'effort', 'it is not counted a second time');
});

test('long after the way down its pulse is not asked any more', () => {
  const player = play().toSession().toEnd();
  player.walk(player.order.resumeWithin - 1000);
  assert.equal(player.state.closing.step, 'pulse');
  player.walk(2000);
  assert.equal(player.state.closing.step, 'effort');
  const shut = play().toSession().toEnd();
  shut.at += shut.order.resumeWithin + 1000;
  shut.reload();
  assert.equal(shut.state.screen, 'closing');
  shut.send('pulse', { value: 70 });
  assert.deepEqual(shut.entry().pulses.map((one) => one.at), ['before'], 'a late one is not taken for it');
  const broken = play().toSession().walk(20000).send('hide');
  broken.at += broken.order.resumeWithin + 1;
  broken.send('go-on').send('finish');
  assert.equal(broken.state.closing.step, 'effort', 'nor after a session that was broken off');
});

function lastBriskEnd(order) {
  return Math.max(...order.cues.filter((cue) => cue.kind === 'brisk').map((cue) => cue.start + cue.length));
}

/** The last brisk turn taken back to an easy one, so that easy turns and ways follow the last that is brisk. */
function easyAtTheEnd() {
  const player = play();
  const last = player.order.cues.filter((cue) => cue.kind === 'brisk').pop();
  last.kind = 'easy';
  assert.ok(lastBriskEnd(player.order) + 60000 < player.order.wayDown, 'the way down is more than a minute away');
  return player.toSession();
}

test('the minute runs from the last brisk turn, also where an easy turn comes before the way down', () => {
  const player = easyAtTheEnd();
  while (player.state.screen === 'session') player.walk(500);
  assert.equal(player.state.screen, 'pulse');
  const gone = player.state.run.doneMs - lastBriskEnd(player.order);
  assert.ok(gone >= 60000 && gone < 61000, String(gone));
});

test('resting counts in that minute, and a pulse is not asked for when the moment is gone', () => {
  const player = easyAtTheEnd();
  player.toCue(cueAt(player.order, lastBriskEnd(player.order))).send('rest').walk(20000).send('go-on');
  while (player.state.screen === 'session') player.walk(500);
  assert.equal(player.state.screen, 'pulse');
  assert.ok(Math.abs(player.state.run.doneMs - lastBriskEnd(player.order) - 40000) < 1000);
  const late = easyAtTheEnd();
  late.toCue(cueAt(late.order, lastBriskEnd(late.order))).send('rest').walk(70000).send('go-on');
  while (late.state.screen === 'session') late.walk(500);
  assert.equal(late.state.screen, 'closing');
});

test('who stopped before any brisk turn is not asked for the pulse after it', () => {
  const player = play().toSession().walk(20000).send('rest').send('way-down');
  while (player.state.screen === 'session') player.walk(500);
  assert.equal(player.state.screen, 'closing');
});
