/**
 * Sends a wish to the program; answers null when it was handed on, else why not.
 *
 * @param about what the wish is about, as the program's requests have it
 */
export async function ask(act, about = {}, send = (address, wish) => fetch(address, wish)) {
  try {
    const answer = await send(`api/${act}`, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Scenespan": "1" },
      body: JSON.stringify(about),
    });
    if (answer.status === 202) return null;
    const told = await answer.json().catch(() => ({}));
    return told.error ?? `the program answered ${answer.status}`;
  } catch {
    return "the program does not answer";
  }
}
