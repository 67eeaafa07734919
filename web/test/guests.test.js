import assert from "node:assert/strict";
import { test } from "node:test";
import { AFTER_FAILURE_MS, EVERY_MS, askGuests, createWatch, modulesPath } from "../guests.js";
import { guestWords } from "../views/guests.js";

/** A page whose program gives these answers, one after the other. */
function page(...answers) {
  const told = [];
  const waits = [];
  const watch = createWatch({
    send: async (address, wish) => {
      const next = answers.shift();
      told.push(address);
      if (next === null) throw new Error("gone");
      assert.ok(address !== "guest/enter" || !address.includes(wish.headers["X-Scenespan-Code"]));
      return { status: next.status ?? 200, json: async () => next };
    },
    change: async (view) => told.push(`shows ${view}`),
    ended: () => told.push("ended"),
    link: (there) => told.push(there ? "there" : "away"),
    wait: (task, ms) => waits.push([task, ms]),
    isSeen: () => true,
  });
  return { watch, told, waits, next: () => waits.shift()[0]() };
}

test("a view is shown once, and another when it is told", async () => {
  const { watch, told, waits, next } = page({ view: "a" }, { view: "a" }, {}, { view: "b" });
  await watch.look();
  assert.equal(waits[0][1], EVERY_MS);
  await next();
  await next();
  await next();
  assert.deepEqual(told.filter((each) => each.startsWith("shows")), ["shows a", "shows null", "shows b"]);
  assert.ok(EVERY_MS < 1_000);
});

test("a withdrawn link ends it for good", async () => {
  const { watch, told, waits } = page({ view: "a" }, { status: 401 });
  await watch.look();
  await waits.shift()[0]();
  assert.equal(told.at(-1), "ended");
  assert.equal(waits.length, 0);
  await watch.look();
  assert.equal(told.at(-1), "ended");
});

test("a program that does not answer is asked again", async () => {
  const { watch, told, waits, next } = page(null, { view: "a" });
  await watch.look();
  assert.equal(waits[0][1], AFTER_FAILURE_MS);
  await next();
  assert.deepEqual(told.slice(-3), ["guest/now", "shows a", "there"]);
});

test("the secret goes in a header, and a wrong one ends it", async () => {
  const right = page({});
  assert.equal(await right.watch.enter("secret"), true);
  const wrong = page({ status: 403 });
  assert.equal(await wrong.watch.enter("secret"), false);
  assert.deepEqual(wrong.told, ["guest/enter", "ended"]);
});

test("an operator is told what became of a wish", async () => {
  const answer = (status, body) => async () => ({ status, json: async () => body });
  assert.deepEqual(await askGuests({ link: true }, answer(200, { shows: "nothing" })), { shows: "nothing" });
  assert.deepEqual(await askGuests(null, answer(403, { error: "no" })), { error: "no" });
  assert.equal(guestWords({ link: "http://10.0.0.7:80/guest.html#s", came: 0 }), "Nobody has opened it yet.");
  assert.equal(guestWords({ link: "http://10.0.0.7:80/guest.html#s", came: 3 }), "3 browsers have opened it.");
  assert.match(guestWords({ link: "http://127.0.0.1:80/guest.html#s" }), /without --lan/);
  assert.match(guestWords({}), /^There is no link yet/);
  assert.equal(guestWords({ error: "no" }), "Not done: no.");
});

test("a drawing's modules are squares of one", () => {
  assert.equal(modulesPath(["0110", "1001"]), "M1 0h2v1H1ZM0 1h1v1H0ZM3 1h1v1H3Z");
});
