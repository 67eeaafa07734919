import assert from "node:assert/strict";
import { test } from "node:test";
import { SILENCE_MS, SLICE_MS, WAITS_MS, openFeed } from "../feed.js";

/** A browser's edge whose time and line are in the test's hands. */
function edge() {
  const made = { sources: [], timers: new Map(), at: 0, next: 1, now: () => made.at };
  made.open = (address) => {
    const source = {
      address,
      closed: false,
      listeners: {},
      close() {
        this.closed = true;
      },
      addEventListener(name, listener) {
        this.listeners[name] = listener;
      },
      record(seq, type = "session-held") {
        this.onmessage({ lastEventId: String(seq), data: JSON.stringify({ seq, type }) });
      },
      pulse(stream, newest) {
        this.listeners.pulse({ data: JSON.stringify({ stream, newest }) });
      },
    };
    made.sources.push(source);
    return source;
  };
  made.setTimeout = (task, wait) => {
    made.timers.set(made.next, { task, due: made.at + wait });
    return made.next++;
  };
  made.clearTimeout = (timer) => made.timers.delete(timer);
  made.pass = (millis) => {
    made.at += millis;
    for (const [timer, { task, due }] of [...made.timers]) {
      if (due <= made.at && made.timers.delete(timer)) task();
    }
  };
  return made;
}

function listening() {
  const browser = edge();
  const told = { seqs: [], links: [], resets: 0 };
  const feed = openFeed(
    {
      record: (record) => told.seqs.push(record.seq),
      reset: () => told.resets++,
      link: (link) => told.links.push(link.state),
    },
    browser,
  );
  return { browser, told, feed, line: () => browser.sources.at(-1) };
}

test("begins at the beginning and is live when nothing is missing", () => {
  const { told, line } = listening();
  assert.equal(line().address, "api/events?since=0");
  line().pulse("a", 2);
  line().record(1);
  line().record(2);
  assert.deepEqual(told.seqs, [1, 2]);
  assert.deepEqual(told.links, ["connecting", "behind", "behind", "live"]);
});

test("goes on from its last number after a break, without gap or repeat", () => {
  const { browser, told, line } = listening();
  line().pulse("a", 3);
  [1, 2, 3].forEach((seq) => line().record(seq));
  const broken = line();
  broken.onerror();
  assert.equal(broken.closed, true);
  assert.equal(told.links.at(-1), "lost");
  browser.pass(WAITS_MS[0]);
  assert.equal(line().address, "api/events?since=3");
  line().pulse("a", 4);
  line().record(3);
  line().record(4);
  broken.record(5);
  assert.deepEqual(told.seqs, [1, 2, 3, 4]);
  assert.equal(told.links.at(-1), "live");
});

test("waits longer after each failure, and starts anew after a success", () => {
  const { browser, line } = listening();
  for (const wait of [...WAITS_MS, WAITS_MS.at(-1)]) {
    const before = browser.sources.length;
    line().onerror();
    browser.pass(wait - 1);
    assert.equal(browser.sources.length, before);
    browser.pass(1);
    assert.equal(browser.sources.length, before + 1);
  }
  line().pulse("a", 0);
  line().onerror();
  const before = browser.sources.length;
  browser.pass(WAITS_MS[0]);
  assert.equal(browser.sources.length, before + 1);
});

test("takes a silent line for dead, and a pulse for life", () => {
  const { browser, told, line } = listening();
  line().pulse("a", 0);
  browser.pass(SILENCE_MS - 1);
  line().pulse("a", 0);
  browser.pass(SILENCE_MS - 1);
  assert.equal(browser.sources.length, 1);
  browser.pass(1);
  assert.equal(told.links.at(-1), "lost");
});

test("asks again where a record is missing or is none", () => {
  for (const wrong of [{ lastEventId: "3", data: '{"seq":3}' }, { lastEventId: "2", data: "{" }]) {
    const { browser, told, line } = listening();
    line().pulse("a", 3);
    line().record(1);
    line().onmessage(wrong);
    assert.deepEqual(told.seqs, [1]);
    browser.pass(WAITS_MS[0]);
    assert.equal(line().address, "api/events?since=1");
  }
});

test("forgets everything when another run of the program answers", () => {
  const { browser, told, line } = listening();
  line().pulse("a", 5);
  [1, 2, 3, 4, 5].forEach((seq) => line().record(seq));
  line().onerror();
  browser.pass(WAITS_MS[0]);
  line().pulse("b", 2);
  assert.equal(told.resets, 1);
  assert.equal(line().address, "api/events?since=0");
  line().pulse("b", 2);
  line().record(1);
  assert.deepEqual(told.seqs, [1, 2, 3, 4, 5, 1]);
});

test("closed, it stays closed", () => {
  const { browser, feed, line } = listening();
  line().onerror();
  feed.close();
  browser.pass(60_000);
  assert.equal(browser.sources.length, 1);
});

test("a network that the device calls gone is told at once, and taken up at once when it is back", () => {
  const { browser, told, feed, line } = listening();
  line().pulse("a", 0);
  feed.cut();
  assert.equal(told.links.at(-1), "lost");
  assert.ok(line().closed);
  const before = browser.sources.length;
  feed.mended();
  assert.equal(browser.sources.length, before + 1);
  line().pulse("a", 0);
  assert.equal(told.links.at(-1), "live");
  feed.mended();
  assert.equal(browser.sources.length, before + 1, "a line that stands is left alone");
  feed.close();
  feed.cut();
  feed.mended();
  assert.equal(browser.sources.length, before + 1);
});

test("a page that nobody sees lets its line go, and goes on where it was", () => {
  const { browser, told, feed, line } = listening();
  line().pulse("a", 1);
  line().record(1);
  feed.rest();
  assert.ok(line().closed);
  browser.pass(SILENCE_MS + WAITS_MS.at(-1));
  assert.equal(browser.sources.length, 1, "it does not ask again by itself");
  feed.mended();
  assert.equal(line().address, "api/events?since=1");
  line().record(2);
  assert.deepEqual(told.seqs, [1, 2]);
  feed.close();
  feed.rest();
  feed.mended();
  assert.equal(browser.sources.length, 2);
});

test("many records at once are taken in slices, in order, and are void when the line breaks", () => {
  const { browser, told, feed, line } = listening();
  line().pulse("a", 9);
  const first = line();
  browser.at += SLICE_MS;
  for (let seq = 1; seq <= 3; seq++) first.record(seq);
  assert.deepEqual(told.seqs, [], "the slice is over");
  browser.pass(0);
  assert.deepEqual(told.seqs, [1, 2, 3]);
  browser.at += SLICE_MS;
  first.record(4);
  feed.cut();
  browser.pass(WAITS_MS[0]);
  assert.deepEqual(told.seqs, [1, 2, 3]);
  assert.equal(line().address, "api/events?since=3", "what was not taken is asked for again");
});
