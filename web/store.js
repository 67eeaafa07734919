/** Holds the state of the page: it changes by records of the journal and by nothing else. */
export function createStore(reduce, initial) {
  let state = initial;
  const listeners = [];

  function put(next) {
    if (next !== state) {
      state = next;
      for (const listener of listeners) listener(state);
    }
  }

  return {
    get: () => state,
    take: (record) => put(reduce(state, record)),
    /** Forgets everything: the program behind the address is another one. */
    reset: () => put(initial),
    listen: (listener) => listeners.push(listener),
  };
}
