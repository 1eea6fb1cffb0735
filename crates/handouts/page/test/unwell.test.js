// "I feel unwell": from everywhere, one thing at a time, and afterwards the page stays closed.
import assert from 'node:assert/strict';
import test from 'node:test';
import { isLocked } from '../state.js';
import { waitIsOver } from '../unwell.js';
import { Player, loadOrder, play } from './fixture.js';

const choose = (player, kind) => {
  const node = player.order.unwell.nodes[player.state.unwell.node];
  const index = node.choices.findIndex((choice) => choice.next.node === kind || choice.next.kind === kind);
  assert.ok(index >= 0, `${player.state.unwell.node} leads not to ${kind}`);
  return player.send('choose', { index });
};

test('it is reached from every screen', () => {
  const screens = {
    start: () => play().send('open'),
    check: () => play().send('open').send('begin'),
    ready: () => play().toReady(),
    session: () => play().toSession(),
    rest: () => play().toSession().send('rest'),
    away: () => play().toSession().send('hide'),
    closing: () => play().toSession().toClosing(),
  };
  for (const name of Object.keys(screens)) {
    const player = screens[name]();
    assert.equal(player.state.screen, name);
    player.send('unwell');
    assert.equal(player.state.screen, 'unwell', name);
    assert.equal(player.state.lock, null, 'nothing was named yet');
    choose(player, 'back');
    assert.equal(player.state.screen, name === 'session' || name === 'away' ? 'rest' : name, `${name} after a mistake`);
    assert.equal(player.state.unwell, null);
  }
});

test('the first named symptom closes the page and stands in the notes, even if the device is put away then', () => {
  const player = play().toSession().walk(30000).send('unwell');
  choose(player, 'chest');
  assert.equal(player.state.lock.why, 'chest-discomfort');
  assert.equal(player.entry().symptoms[0].kind, 'chest-discomfort');
  player.reload();
  assert.equal(player.state.screen, 'unwell', 'it goes on where it was');
});

test('the spray: seated and not faint, its own wait, and after the last step the emergency number', () => {
  const player = play().toSession().send('unwell');
  choose(player, 'chest');
  choose(player, 'chest-have');
  choose(player, 'spray-1');
  choose(player, 'spray-1-wait');
  const waiting = player.order.unwell.nodes['spray-1-wait'];
  const still = waiting.choices.findIndex((choice) => choice.afterWait);
  player.at += waiting.waitMs - 1;
  player.send('choose', { index: still });
  assert.equal(player.state.unwell.node, 'spray-1-wait', 'not before its time');
  assert.equal(waitIsOver(player.state.unwell, waiting, player.at), false);
  player.at += 1;
  player.send('choose', { index: still });
  assert.equal(player.state.unwell.node, 'spray-2');
  choose(player, 'spray-2-wait');
  player.at += player.order.unwell.nodes['spray-2-wait'].waitMs;
  choose(player, 'chest-now');
  assert.equal(player.order.unwell.nodes['chest-now'].call, 'emergency');
  assert.equal(player.entry().symptoms[0].nitrate_used, true);
});

test('the wait goes on while the page is closed', () => {
  const player = play().toSession().send('unwell');
  choose(player, 'chest');
  choose(player, 'chest-have');
  choose(player, 'spray-1');
  choose(player, 'spray-1-wait');
  const since = player.state.unwell.since;
  player.at += 200000;
  player.reload();
  assert.equal(player.state.unwell.since, since);
});

test('faint means no spray', () => {
  const player = play().toSession().send('unwell');
  choose(player, 'chest');
  choose(player, 'chest-faint');
  assert.equal(player.order.unwell.nodes['chest-faint'].call, 'emergency');
  assert.ok(player.entry().symptoms[0].nitrate_used === undefined);
});

test('afterwards no session begins on this page, whatever is pressed', () => {
  const player = play().toSession().send('unwell');
  choose(player, 'faint');
  choose(player, 'faint-passed');
  choose(player, 'afterwards');
  assert.equal(player.state.screen, 'after');
  player.send('to-notes').send('home');
  assert.equal(player.state.screen, 'locked');
  for (const type of ['begin', 'afresh', 'ready', 'go-on', 'open', 'home', 'tick', 'again']) {
    player.send(type);
    assert.equal(player.state.screen, 'locked', type);
    assert.equal(player.state.run, null);
  }
  player.reload();
  assert.equal(player.state.screen, 'locked');
});

test('only a later page opens again: a later day, or a later letter of the same day', () => {
  const order = loadOrder();
  const lock = { date: order.date, letter: order.letter, on: '2026-11-26', why: 'faint' };
  assert.equal(isLocked(lock, order), true);
  assert.equal(isLocked(lock, Object.assign({}, order, { letter: 'C' })), false);
  assert.equal(isLocked(lock, Object.assign({}, order, { letter: 'A' })), true);
  assert.equal(isLocked(lock, Object.assign({}, order, { date: '2026-12-01', letter: 'A' })), false);
  assert.equal(isLocked(lock, Object.assign({}, order, { date: '2026-11-01', letter: 'Z' })), true);
  assert.equal(isLocked(null, order), false);
});

test('a later page keeps the notes and takes up nothing that was begun on the old one', () => {
  const old = play().toSession().walk(20000).send('unwell');
  choose(old, 'racing');
  const kept = JSON.parse(JSON.stringify(old.state));
  const later = new Player(Object.assign({}, loadOrder(), { date: '2026-12-01' }), kept).send('open');
  assert.equal(later.state.screen, 'start');
  assert.equal(later.state.lock, null);
  assert.equal(later.state.unwell, null);
  assert.equal(later.state.entries.length, 1);
  const older = new Player(Object.assign({}, loadOrder(), { date: '2026-11-01' }), kept).send('open');
  assert.equal(older.state.screen, 'locked', 'an older page stays closed');
});

test('one step back restores what was kept, and the page opens when no symptom is left', () => {
  const player = play().toSession().send('unwell');
  choose(player, 'breathless');
  assert.notEqual(player.state.lock, null);
  player.send('path-back');
  assert.equal(player.state.unwell.node, player.order.unwell.first);
  assert.equal(player.state.lock, null);
  assert.deepEqual(player.state.entries, []);
});

test('what was told stays told once there is a second answer, however far one goes back', () => {
  const player = play().toSession().send('unwell');
  choose(player, 'chest');
  choose(player, 'chest-have');
  choose(player, 'spray-1');
  choose(player, 'spray-1-wait');
  for (let i = 0; i < 4; i += 1) player.send('path-back');
  assert.equal(player.state.unwell.node, player.order.unwell.first);
  assert.notEqual(player.state.lock, null, 'the page stays closed');
  assert.deepEqual(player.entry().symptoms, [{ kind: 'chest-discomfort', nitrate_used: true }]);
  player.send('path-back');
  assert.equal(player.state.screen, 'after', 'a used spray is no slip of the finger');
  assert.equal(player.send('to-notes').send('home').state.screen, 'locked');
});

test('more than one sign is told as all of them and leads where the gravest leads', () => {
  const told = (which, ...kinds) => {
    const player = play(which).toSession().send('unwell');
    choose(player, 'several');
    kinds.forEach((kind) => player.send('tick-sign', { kind }));
    player.send('ticked');
    return { node: player.state.unwell.node, kinds: (player.entry().symptoms || []).map((one) => one.kind), player };
  };
  const both = told('signed', 'breathless', 'chest');
  assert.equal(both.node, 'chest-and');
  assert.deepEqual(both.kinds.sort(), ['breathlessness', 'chest-discomfort']);
  choose(both.player, 'chest-have');
  choose(both.player, 'spray-1');
  assert.ok(both.player.order.unwell.nodes['chest-and'].lines[0].includes('999'), 'the call comes first');
  assert.equal(told('signed', 'chest', 'faint').node, 'chest-faint', 'faint means no spray');
  assert.equal(told('signed', 'racing', 'breathless').node, 'several-now');
  assert.equal(told('ill', 'sugar', 'faint').node, 'several-sugar');
  assert.deepEqual(told('signed', 'other').kinds, ['other']);
  assert.equal(told('signed', 'chest').node, 'chest');
  const none = told('signed');
  assert.equal(none.node, 'several', 'nothing told leads nowhere');
  assert.notEqual(none.player.state.lock, null);
});

test('only a sore joint that can be borne goes on, eased and resting first', () => {
  const player = play().toSession().toCue(8).send('unwell');
  choose(player, 'fall');
  choose(player, 'joint');
  choose(player, 'back-eased');
  assert.equal(player.state.screen, 'rest');
  assert.equal(player.state.lock, null);
  assert.equal(Object.keys(player.state.run.eased).length, 1);
});

test('what was answered before stays in the notes', () => {
  const player = play().toSession().toClosing().send('effort', { value: 4 });
  player.send('unwell');
  choose(player, 'chest');
  assert.equal(player.entry().effort.value, 4);
  assert.equal(player.entry().symptoms[0].kind, 'chest-discomfort');
  assert.equal(player.state.entries.length, 1);
});

test('every screen of the path can be walked to its end', () => {
  for (const which of ['signed', 'ill']) {
    const order = loadOrder(which);
    const seen = new Set();
    const visit = (state, at) => {
      const id = state.unwell.node;
      if (seen.has(id)) return;
      seen.add(id);
      const node = order.unwell.nodes[id];
      const tries = node.choices.map((choice, index) => (player) => player.send('choose', { index }));
      const pairs = node.ticks.flatMap((one) => node.ticks.map((other) => [one.id, other.id]));
      pairs.forEach((pair) => tries.push((player) => {
        new Set(pair).forEach((kind) => player.send('tick-sign', { kind }));
        player.send('ticked');
      }));
      tries.forEach((press) => {
        const player = new Player(order, state);
        player.at = at + node.waitMs;
        press(player);
        if (player.state.unwell !== null) visit(player.state, player.at);
        else assert.ok(['after', 'rest', 'start'].includes(player.state.screen), player.state.screen);
      });
    };
    const begun = new Player(order).send('open').send('unwell');
    visit(begun.state, begun.at);
    assert.equal(seen.size, Object.keys(order.unwell.nodes).length, which);
  }
});

test('the notes say what was felt: dizzy is not fainted, and a sore joint is no fall', () => {
  const felt = (...path) => {
    const player = play().toSession().send('unwell');
    path.forEach((kind) => choose(player, kind));
    return (player.entry().symptoms || ['not asked']).map((one) => one.kind || one);
  };
  assert.deepEqual(felt('faint', 'faint-passed'), ['dizziness']);
  assert.deepEqual(felt('faint', 'faint-now'), ['dizziness', 'faint']);
  assert.deepEqual(felt('fall'), ['not asked']);
  assert.deepEqual(felt('fall', 'fall-ring'), ['fall']);
  assert.deepEqual(felt('fall', 'joint', 'joint-rest'), ['other-joint-pain']);
});

test('the page is closed from the first answer, also where nothing is named yet', () => {
  const player = play().toSession().send('unwell');
  choose(player, 'fall');
  assert.equal(player.state.lock.why, 'fall');
  assert.equal(player.entry().stopped_because, 'unwell: fall');
});
