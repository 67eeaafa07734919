import { fetched } from "./outlook.js";

/**
 * A lapse so far, asked for before the rest of the page has come: a browser that is let in already
 * need not wait for that to be told. Null where the program does not tell it.
 */
export const early = fetched("api/so-far");
