import { byId, set, show, write } from "../dom.js";
import { askRole, codeOf, enterCode } from "../pairing.js";

/** The wait before the program is asked again, milliseconds. */
const AGAIN_MS = 2_000;

/** Waits until this browser is let in, if need be by a code; answers what it may do. */
export async function letIn() {
  const scanned = takeFragment();
  let me = await askedUntilAnswered();
  if (me.role === "none" && scanned !== null) {
    const refusal = await enterCode(scanned);
    me = await askedUntilAnswered();
    if (me.role === "none") tell(refusal);
  }
  if (me.role === "none") {
    await codeIsTaken();
    me = await askedUntilAnswered();
    if (me.role === "none") {
      // The code was taken and the cookie was not kept.
      tell("this browser keeps no cookies for this address");
      return new Promise(() => {});
    }
  }
  show(byId("entry"), false);
  return me;
}

/** The code that a scanned address ends with. It leaves the address, and with it the history. */
function takeFragment() {
  const code = codeOf(location.hash.slice(1));
  if (location.hash !== "") history.replaceState(null, "", location.pathname);
  return code;
}

async function askedUntilAnswered() {
  for (;;) {
    const me = await askRole();
    if (me !== null) return me;
    write(byId("before-status"), "The program does not answer; trying again.");
    await new Promise((done) => setTimeout(done, AGAIN_MS));
  }
}

function tell(refusal) {
  write(byId("entry-told"), refusal === null ? "" : `Not paired: ${refusal}.`);
}

function codeIsTaken() {
  const code = byId("entry-code");
  const send = byId("entry-send");
  show(byId("before"), false);
  show(byId("entry"), true);
  code.focus();
  return new Promise((done) => {
    let underWay = false;
    byId("entry-form").addEventListener("submit", async (event) => {
      event.preventDefault();
      const digits = codeOf(code.value);
      if (underWay) return;
      if (digits === null) {
        tell("a code has eight digits");
        code.select();
        return;
      }
      underWay = true;
      set(send, "aria-disabled", "true");
      write(send, "Asking …");
      const refusal = await enterCode(digits);
      underWay = false;
      set(send, "aria-disabled", null);
      write(send, "Pair this browser");
      tell(refusal);
      if (refusal === null) {
        done();
      } else {
        code.select();
      }
    });
  });
}
