// @ts-check
// Keeping the state on the device, and saying so when the device refuses.

import { STATE_VERSION, freshState } from './state.js';

/**
 * @param {Storage | null} storage
 * @param {string} caseId
 */
export function makeStore(storage, caseId) {
  const key = `hearthpace.${caseId}`;
  return {
    /** Whether something written can be read again. */
    proves() {
      try {
        if (storage === null) return false;
        const stamp = `${key}.proof`;
        storage.setItem(stamp, 'kept');
        const kept = storage.getItem(stamp) === 'kept';
        storage.removeItem(stamp);
        return kept;
      } catch (refused) {
        return false;
      }
    },
    /** @returns {import('./state.js').State} */
    load() {
      try {
        const text = storage === null ? null : storage.getItem(key);
        const found = text === null ? null : JSON.parse(text);
        if (found && found.version === STATE_VERSION) return Object.assign(freshState(), found);
      } catch (refused) {
        // What cannot be read is treated as not there; the notes of the session at hand are still made.
      }
      return freshState();
    },
    /**
     * @param {import('./state.js').State} state
     * @returns {boolean}
     */
    save(state) {
      try {
        if (storage === null) return false;
        storage.setItem(key, JSON.stringify(state));
        return true;
      } catch (refused) {
        return false;
      }
    },
  };
}
