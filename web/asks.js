/** Sends a wish to the program; answers null when it was handed on, else why not. */
export async function ask(act, send = (address, wish) => fetch(address, wish)) {
  try {
    const answer = await send(`api/${act}`, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Scenespan": "1" },
      body: "{}",
    });
    if (answer.status === 202) return null;
    const told = await answer.json().catch(() => ({}));
    return told.error ?? `the program answered ${answer.status}`;
  } catch {
    return "the program does not answer";
  }
}
