// Keeping: a device that refuses, that forgets, or that holds something unreadable.
import assert from 'node:assert/strict';
import test from 'node:test';
import { freshState } from '../state.js';
import { makeStore } from '../store.js';

const memory = () => {
  const kept = new Map();
  return { getItem: (key) => (kept.has(key) ? kept.get(key) : null), setItem: (key, text) => kept.set(key, text), removeItem: (key) => kept.delete(key) };
};
const refusing = { getItem: () => null, setItem: () => { throw new Error('full'); }, removeItem: () => {} };
const forgetting = { getItem: () => null, setItem: () => {}, removeItem: () => {} };

test('what is saved comes back', () => {
  const store = makeStore(memory(), 'fenwick-1951');
  assert.equal(store.proves(), true);
  const state = Object.assign(freshState(), { screen: 'rest' });
  assert.equal(store.save(state), true);
  assert.deepEqual(store.load(), state);
});

test('a device that refuses or forgets is found out and nothing breaks', () => {
  for (const storage of [refusing, forgetting, null]) {
    const store = makeStore(storage, 'fenwick-1951');
    assert.equal(store.proves(), false);
    assert.deepEqual(store.load(), freshState());
  }
  assert.equal(makeStore(refusing, 'x').save(freshState()), false);
});

test('what cannot be read, or was kept by another version, is treated as not there', () => {
  for (const text of ['{', 'null', '{"version":99}', '[]']) {
    const storage = memory();
    storage.setItem('hearthpace.fenwick-1951', text);
    assert.deepEqual(makeStore(storage, 'fenwick-1951').load(), freshState());
  }
});

test('two people on one device do not meet', () => {
  const storage = memory();
  makeStore(storage, 'one-person').save(Object.assign(freshState(), { screen: 'locked' }));
  assert.deepEqual(makeStore(storage, 'other-person').load(), freshState());
});
