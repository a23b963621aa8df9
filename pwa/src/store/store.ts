/** A value that can be watched. */
import { useEffect, useState } from "preact/hooks";

export interface Store<T> {
  get(): T;
  set(change: Partial<T>): void;
  watch(listener: () => void): () => void;
}

export function createStore<T extends object>(start: T): Store<T> {
  let value = start;
  const listeners = new Set<() => void>();
  return {
    get: () => value,
    set(change) {
      value = { ...value, ...change };
      for (const listener of [...listeners]) listener();
    },
    watch(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** Draws the component again whenever the store changes. */
export function useStore<T>(store: Store<T>): T {
  const [value, show] = useState(store.get());
  useEffect(() => {
    show(store.get());
    return store.watch(() => show(store.get()));
  }, [store]);
  return value;
}
