// A clock that stands still until a test moves it. Timers and animation frames run in the order of their time, and
// promises settle between them, as they would in a page that is simply watched for as long.
function installTestClock(start) {
  'use strict';
  const FRAME_MS = 16;
  const realSetTimeout = window.setTimeout.bind(window);
  const RealDate = Date;
  const origin = new RealDate(start).getTime();
  let now = 0;
  let lastId = 0;
  const waiting = new Map();

  function add(run, delay, every, args) {
    lastId += 1;
    const call = typeof run === 'function' ? () => run(...args) : () => {};
    waiting.set(lastId, { id: lastId, at: now + Math.max(0, Number(delay) || 0), every, call });
    return lastId;
  }

  window.setTimeout = (run, delay, ...args) => add(run, delay, null, args);
  window.setInterval = (run, delay, ...args) => add(run, delay, Math.max(1, Number(delay) || 0), args);
  window.clearTimeout = (id) => { waiting.delete(id); };
  window.clearInterval = window.clearTimeout;
  window.requestAnimationFrame = (run) => add(() => run(now), FRAME_MS - (now % FRAME_MS), null, []);
  window.cancelAnimationFrame = window.clearTimeout;
  performance.now = () => now;

  window.Date = class extends RealDate {
    constructor(...args) {
      if (args.length === 0) super(origin + now); else super(...args);
    }

    static now() { return origin + now; }
  };

  function next(until) {
    let first = null;
    for (const one of waiting.values()) {
      if (one.at <= until && (first === null || one.at < first.at || (one.at === first.at && one.id < first.id))) {
        first = one;
      }
    }
    return first;
  }

  async function advance(milliseconds) {
    const until = now + milliseconds;
    let ran = 0;
    for (let one = next(until); one !== null; one = next(until)) {
      now = Math.max(now, one.at);
      if (one.every === null) waiting.delete(one.id); else one.at += one.every;
      one.call();
      await null;
      ran += 1;
      // The browser draws and reports only when its own event loop gets a turn.
      if (ran % 500 === 0) await new Promise((go) => realSetTimeout(go, 0));
    }
    now = until;
    await new Promise((go) => realSetTimeout(go, 0));
  }

  window.__testClock = { advance, now: () => now, waiting: () => waiting.size };
}
