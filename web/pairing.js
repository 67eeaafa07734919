/** How this browser is let in: who it is to the program, and the code that makes it someone. */

/** The digits of a code, as the program draws them. */
export const DIGITS = 8;

/** The digits of what was typed; null if they are not a whole code. */
export function codeOf(typed) {
  const digits = typed.replace(/[\s-]/g, "");
  return /^[0-9]+$/.test(digits) && digits.length === DIGITS ? digits : null;
}

/** What this browser may do: {role, local, wrongCodes}, null if the program does not answer. */
export async function askRole(send = (address, wish) => fetch(address, wish)) {
  try {
    const answer = await send("api/me", { headers: { Accept: "application/json" } });
    if (answer.status !== 200) return null;
    const told = await answer.json();
    return typeof told.role === "string" ? told : null;
  } catch {
    return null;
  }
}

/**
 * Hands a code in; answers null when it was taken, else why not. The code goes in a header: an
 * address would be kept in histories and logs.
 */
export async function enterCode(code, send = (address, wish) => fetch(address, wish)) {
  try {
    const answer = await send("api/pair", {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Scenespan": "1", "X-Scenespan-Code": code },
      body: "{}",
    });
    if (answer.status === 200) return null;
    const told = await answer.json().catch(() => ({}));
    return told.error ?? `the program answered ${answer.status}`;
  } catch {
    return "the program does not answer";
  }
}

/** What the page says of itself at its foot; nothing at the program's own machine. */
export function roleWords({ role, local, wrongCodes = 0 }) {
  if (local) return wrongCodes > 0 ? tried(wrongCodes) : "";
  if (role !== "operator") {
    return "Viewer: this page looks on. Only an operator can hold, continue or stop.";
  }
  return wrongCodes > 0 ? `Operator. ${tried(wrongCodes)}` : "Operator";
}

function tried(wrongCodes) {
  return wrongCodes === 1 ? "One wrong code was tried." : `${wrongCodes} wrong codes were tried.`;
}
