// The moving figure: points go straight from moment to moment and come back to where they began.
import assert from 'node:assert/strict';
import test from 'node:test';
import { figureAt, readFigure } from '../figure.js';

const SIGNS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_';
const pair = (number) => SIGNS[Math.floor(number / 64)] + SIGNS[number % 64];
const place = (x, y) => pair(x + 2048) + pair(y + 2048);

// Two points, of which the second moves: at 0 ms, and at 400 of 1000 ms.
const movement = {
  p: 1000,
  t: pair(0) + pair(10),
  m: SIGNS[1],
  q: place(-5, 7) + place(100, -200),
  f: place(300, -100),
  o: [[1, '01'], [1, '10']],
};

test('points are read as they were written', () => {
  const figure = readFigure(movement);
  assert.deepEqual(figure.times, [0, 0.4]);
  assert.deepEqual(figure.frames, [[-5, 7, 100, -200], [-5, 7, 300, -100]]);
  assert.deepEqual(figure.orders, ['01', '10']);
});

test('a point goes straight between moments and back at the end', () => {
  const figure = readFigure(movement);
  const at = (share) => figureAt(figure, share);
  assert.deepEqual(at(0), { points: [-5, 7, 100, -200], place: 0 });
  assert.deepEqual(at(0.2).points, [-5, 7, 200, -150]);
  assert.deepEqual(at(0.4), { points: [-5, 7, 300, -100], place: 1 });
  assert.deepEqual(at(0.7).points.map(Math.round), [-5, 7, 200, -150]);
  assert.ok(Math.abs(at(0.9999).points[2] - 100) < 0.1);
});
