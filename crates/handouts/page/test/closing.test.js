// The questions at the end, the entry they make, and what is read out.
import assert from 'node:assert/strict';
import test from 'node:test';
import { diaryFile, readLines } from '../diary.js';
import { play } from './fixture.js';

/** Every key of an entry that the agreed form knows. */
const KEYS = ['id', 'date', 'stage', 'stations_planned', 'stations_done', 'effort', 'symptoms', 'pulses', 'joint_pain', 'eased', 'rested_s', 'stopped_because', 'medicine_change', 'weight_kg', 'minutes', 'note'];

test('answered to the end the entry has the agreed form', () => {
  const player = play().toSession().toClosing();
  player.send('effort', { value: 4 }).send('no-sign').send('joint', { value: 2 });
  assert.equal(player.state.screen, 'last');
  const entry = player.entry();
  for (const key of Object.keys(entry)) assert.ok(KEYS.includes(key), key);
  assert.deepEqual(entry.effort, { scale: '0-10', value: 4 });
  assert.deepEqual(entry.symptoms, [], 'asked, and none');
  assert.deepEqual(entry.joint_pain, { during: 2 });
  assert.equal(entry.date, '2026-11-26');
  assert.ok(entry.minutes > 30 && entry.minutes < 60);
  const file = JSON.parse(diaryFile(player.state, player.order));
  assert.equal(file.case, 'fenwick-1951');
  assert.equal(file.entries.length, 1);
});

test('what was not asked is not there: not asked is not none', () => {
  const player = play().toSession().toClosing();
  assert.equal(player.entry().symptoms, undefined);
  player.send('effort', { value: 3 });
  assert.equal(player.entry().symptoms, undefined);
  assert.equal(player.entry().effort.value, 3);
  player.reload();
  assert.equal(player.state.screen, 'closing');
  assert.equal(player.state.closing.step, 'signs');
});

test('a new sign that stops closes the page; as usual does not; the spray is asked with the chest', () => {
  const worse = play().toSession().toClosing().send('effort', { value: 4 });
  worse.send('sign', { kind: 'chest-discomfort' }).send('signs-told');
  assert.equal(worse.state.closing.step, 'spray');
  worse.send('spray', { yes: true }).send('joint', { value: 0 });
  assert.notEqual(worse.state.lock, null);
  assert.deepEqual(worse.entry().symptoms, [{ kind: 'chest-discomfort', nitrate_used: true }]);
  assert.equal(worse.send('home').state.screen, 'locked');

  const usual = play('usual').toSession().toClosing().send('effort', { value: 4 });
  usual.send('sign', { kind: 'breathlessness' }).send('signs-told');
  assert.equal(usual.state.closing.step, 'usual:breathlessness');
  usual.send('usual', { usual: true }).send('joint', { value: 0 });
  assert.equal(usual.state.lock, null);
  assert.deepEqual(usual.entry().symptoms, [{ kind: 'breathlessness', usual: true }]);

  const changed = play('usual').toSession().toClosing().send('effort', { value: 4 });
  changed.send('sign', { kind: 'chest-discomfort' }).send('signs-told');
  changed.send('usual', { usual: false }).send('spray', { yes: false }).send('joint', { value: 0 });
  assert.notEqual(changed.state.lock, null);
});

test('a faint closes the page whatever it is called: as usual is not even asked', () => {
  const player = play('usual').toSession().toClosing().send('effort', { value: 4 });
  player.send('sign', { kind: 'faint' }).send('signs-told');
  assert.equal(player.state.closing.step, 'joint');
  player.send('usual', { usual: true }).send('joint', { value: 0 });
  assert.notEqual(player.state.lock, null);
});

test('unwell after the notes were finished is an entry of its own', () => {
  const player = play().toSession().toClosing();
  player.send('effort', { value: 4 }).send('no-sign').send('joint', { value: 0 });
  assert.equal(player.state.screen, 'last');
  const saved = JSON.stringify(player.state.entries);
  player.send('unwell').send('choose', { index: 0 });
  assert.equal(player.state.entries.length, 2);
  assert.equal(JSON.stringify(player.state.entries.slice(0, 1)), saved, 'the saved entry stays as it was');
  assert.equal(player.entry().symptoms[0].kind, 'chest-discomfort');
  assert.equal(player.entry().minutes, 0);
  assert.equal(player.entry().pulses, undefined, 'the pulses of the session are not told twice');
});

test('a sign that was told stands in the notes at once, also where the rest is never answered', () => {
  const player = play().toSession().toClosing().send('effort', { value: 4 });
  player.send('sign', { kind: 'faint' }).send('signs-told');
  assert.deepEqual(player.entry().symptoms, [{ kind: 'faint' }]);
});

test('a sign can be taken off again, and one question back is possible', () => {
  const player = play().toSession().toClosing().send('effort', { value: 4 });
  player.send('sign', { kind: 'tiredness' }).send('sign', { kind: 'tiredness' });
  assert.deepEqual(player.state.closing.signs, []);
  player.send('back');
  assert.equal(player.state.closing.step, 'effort');
});

test('answers to another question change nothing', () => {
  const player = play().toSession().toClosing();
  for (const type of ['joint', 'weight', 'spray', 'usual', 'signs-told']) {
    player.send(type, { value: 3 });
    assert.equal(player.state.closing.step, 'effort', type);
  }
});

test('heart failure is asked the weight', () => {
  const player = play('ill').toSession().toClosing();
  player.send('effort', { value: 3 }).send('no-sign').send('joint', { value: 0 });
  assert.equal(player.state.closing.step, 'weight');
  player.send('weight', { value: 71.5 });
  assert.equal(player.entry().weight_kg, 71.5);
});

test('the next morning is asked before the next session and stands by itself', () => {
  const player = play().toSession().send('ease').toClosing();
  player.send('effort', { value: 4 }).send('no-sign').send('joint', { value: 3 }).send('home');
  const saved = JSON.stringify(player.entry());
  player.day = '2026-11-28';
  player.send('open').send('begin');
  assert.equal(player.state.screen, 'morning');
  player.send('morning', { worse: true });
  assert.equal(player.state.screen, 'check');
  assert.equal(JSON.stringify(player.state.entries[0]), saved, 'a file that was saved before says the same');
  assert.deepEqual(player.entry().joint_pain, { next_morning: 'worse' });
  assert.equal(player.entry().date, '2026-11-28');
  assert.deepEqual(player.entry().eased, player.state.entries[0].eased, 'and what was eased then');
  assert.equal(player.entry().minutes, 0);
  assert.notEqual(player.entry().id, player.state.entries[0].id);
  assert.ok(player.entry().note.includes('26 November 2026'), player.entry().note);
  assert.ok(readLines(player.entry(), player.order).every((line) => !line.includes('undefined')));
  assert.equal(player.send('home').send('begin').state.screen, 'check', 'it is asked once');
  const sameDay = play().toSession().toClosing();
  sameDay.send('effort', { value: 4 }).send('no-sign').send('joint', { value: 3 }).send('home').send('begin');
  assert.equal(sameDay.state.screen, 'check', 'not on the same day');
});

test('what is read out says the same as the file', () => {
  const player = play().toSession().toClosing();
  player.send('effort', { value: 4 }).send('sign', { kind: 'dizziness' }).send('signs-told').send('joint', { value: 2 });
  const lines = readLines(player.entry(), player.order);
  assert.ok(lines.includes('Day: 26 November 2026'));
  assert.ok(lines.includes('Page: B'));
  assert.ok(lines.includes(`Turns done: ${player.order.stations} of ${player.order.stations}`));
  assert.ok(lines.includes('Hardest moment: 4'));
  assert.ok(lines.includes('Felt: Dizzy or faint'));
  assert.ok(lines.includes('Joint: 2 of 10'));
  assert.ok(lines.every((line) => !line.includes('{')));
});

test('two sessions are two entries, the same session is one', () => {
  const player = play().toSession().toClosing();
  player.send('effort', { value: 4 }).send('no-sign').send('joint', { value: 0 }).send('home');
  player.toSession().toClosing();
  player.send('effort', { value: 3 }).send('no-sign').send('joint', { value: 0 });
  assert.equal(player.state.entries.length, 2);
  assert.notEqual(player.state.entries[0].id, player.state.entries[1].id);
});
