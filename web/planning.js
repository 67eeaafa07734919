/** The ISO that the slider's place stands for: whole stops from 100. */
export const speedOf = (place) => 100 * 2 ** place;

/** The wishes of the form as the parameters of an address. */
export function question(wishes) {
  const parameters = new URLSearchParams();
  for (const [name, value] of wishes) {
    if (value === "") continue;
    if (name === "highest-iso") parameters.set(name, String(speedOf(Number(value))));
    else parameters.set(name, value);
  }
  return parameters.toString();
}
