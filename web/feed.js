/**
 * The journal's records as they come, each once and in order, through breaks of the line. The
 * server's sequence number says where to go on; a pulse without number says how far the journal
 * reaches, and which run of the program this is.
 */

/** A line that is silent for longer is taken for dead, milliseconds: two pulses and a half. */
export const SILENCE_MS = 25_000;

/** Records are taken for so long at a time, milliseconds; the rest wait, so that a touch does not. */
export const SLICE_MS = 12;

/** Waits before the next try, milliseconds; the last repeats. */
export const WAITS_MS = [250, 1_000, 2_000, 4_000, 8_000];

/**
 * @param on.record called with each record
 * @param on.reset called when another run of the program answers: what was told is void
 * @param on.link called with {state, last, newest}; state is "connecting", "live", "behind" or
 *     "lost"
 * @param edge the browser's EventSource, timers and clock, or stand-ins; `since` is the number after
 *     which the records begin
 */
export function openFeed(on, edge) {
  let source = null;
  let stream = null;
  let last = edge.since ?? 0;
  let newest = 0;
  let failures = 0;
  let state = "";
  let silence = null;
  let retry = null;
  let closed = false;
  /** Events that wait for their slice, and when the slice that runs is over. */
  let waiting = [];
  let sliceEnd = null;

  /** A browser hands over hundreds of events in one go: they are taken in slices, in order. */
  function inSlices(take) {
    const mine = source;
    waiting.push(() => mine === source && take());
    if (sliceEnd === null) slice();
    else work();
  }

  function slice() {
    sliceEnd = edge.now() + SLICE_MS;
    edge.setTimeout(() => {
      sliceEnd = null;
      if (waiting.length > 0) slice();
    }, 0);
    work();
  }

  function work() {
    while (waiting.length > 0 && edge.now() < sliceEnd) waiting.shift()();
  }

  function tell(now) {
    const text = `${now} ${now === "behind" ? newest - last : 0}`;
    if (text !== state) {
      state = text;
      on.link({ state: now, last, newest });
    }
  }

  function heard() {
    edge.clearTimeout(silence);
    silence = edge.setTimeout(fail, SILENCE_MS);
  }

  function fail() {
    drop();
    tell("lost");
    const wait = WAITS_MS[Math.min(failures, WAITS_MS.length - 1)];
    failures++;
    retry = edge.setTimeout(connect, wait);
  }

  function drop() {
    edge.clearTimeout(silence);
    edge.clearTimeout(retry);
    waiting = [];
    if (source !== null) source.close();
    source = null;
  }

  function connect() {
    if (closed) return;
    drop();
    if (failures === 0) tell("connecting");
    const mine = edge.open(`api/events?since=${last}`);
    source = mine;
    heard();
    mine.onerror = () => {
      if (mine === source) fail();
    };
    mine.onmessage = (event) => {
      if (mine === source) inSlices(() => takeRecord(event));
    };
    mine.addEventListener("pulse", (event) => {
      if (mine === source) inSlices(() => takePulse(event));
    });
  }

  function takeRecord(event) {
    heard();
    const record = parse(event.data);
    const seq = Number(event.lastEventId);
    if (!(seq > last)) return;
    if (seq !== last + 1 || record === null) {
      fail();
      return;
    }
    last = seq;
    newest = Math.max(newest, last);
    on.record(record);
    tell(last < newest ? "behind" : "live");
  }

  function takePulse(event) {
    heard();
    const pulse = parse(event.data);
    if (pulse === null) return;
    if (stream !== null && pulse.stream !== stream) {
      stream = pulse.stream;
      last = 0;
      newest = 0;
      on.reset();
      connect();
      return;
    }
    stream = pulse.stream;
    failures = 0;
    newest = Math.max(last, pulse.newest);
    tell(last < newest ? "behind" : "live");
  }

  connect();
  return {
    /** The device says that its network is gone: nobody needs to wait for the silence. */
    cut() {
      if (!closed) fail();
    },
    /** Lets the line go until it is mended: nobody sees the page. */
    rest() {
      if (!closed) drop();
    },
    /** The device says that its network is back, or somebody sees the page again. */
    mended() {
      if (!closed && source === null) connect();
    },
    close() {
      closed = true;
      drop();
    },
  };
}

function parse(text) {
  try {
    const value = JSON.parse(text);
    return typeof value === "object" ? value : null;
  } catch {
    return null;
  }
}
