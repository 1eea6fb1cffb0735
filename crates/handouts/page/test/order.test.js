// Reading the running order: cues in time, bands of numbers, the dot on the line.
import assert from 'node:assert/strict';
import test from 'node:test';
import { cueAt, dateWords, fillText, outcomeOf, pointOnWay } from '../order.js';
import { loadOrder } from './fixture.js';

test('every moment of the session belongs to one cue, and the very end to the last', () => {
  const order = loadOrder();
  order.cues.forEach((cue, i) => {
    assert.equal(cueAt(order, cue.start), i);
    assert.equal(cueAt(order, cue.start + cue.length - 1), i);
  });
  assert.equal(cueAt(order, order.length), order.cues.length - 1);
});

test('a bound itself belongs to the band above it, and the last band has no end', () => {
  const bands = [
    { below: 40, outcome: { kind: 'not-today', text: 'low' } },
    { below: 100, outcome: { kind: 'go-on' } },
    { below: null, outcome: { kind: 'not-today', text: 'high' } },
  ];
  assert.equal(outcomeOf(bands, 39.9).text, 'low');
  assert.equal(outcomeOf(bands, 40).kind, 'go-on');
  assert.equal(outcomeOf(bands, 99.9).kind, 'go-on');
  assert.equal(outcomeOf(bands, 100).text, 'high');
  assert.equal(outcomeOf(bands, 500).text, 'high');
});

test('placeholders are filled once and unknown ones stay', () => {
  assert.equal(fillText('{a} of {b}', { a: '{b}', b: '2' }), '{b} of 2');
  assert.equal(fillText('{toString}', {}), '{toString}');
});

test('a day is said in words', () => {
  assert.equal(dateWords('2026-11-05', loadOrder()), '5 November 2026');
});

test('the dot begins and ends on the ground and moves evenly to the right', () => {
  const order = loadOrder();
  const begin = pointOnWay(order, 0);
  const end = pointOnWay(order, order.length);
  assert.ok(Math.abs(begin.y - order.way.ground) < 0.2 && Math.abs(end.y - order.way.ground) < 0.2);
  let before = -1;
  for (let ms = 0; ms <= order.length; ms += 1000) {
    const point = pointOnWay(order, ms);
    assert.ok(point.x > before);
    before = point.x;
  }
});
