import { useEffect, useState } from "preact/hooks";

const SETTLED_MS = 500; // chosen: long enough not to read out every step of a drag

/** Says the text to a screen reader once it has stopped changing. */
export function Announcer({ text }: { text: string }) {
  const [said, say] = useState("");
  useEffect(() => {
    const timer = setTimeout(() => say(text), SETTLED_MS);
    return () => clearTimeout(timer);
  }, [text]);
  return <p class="unseen" role="status" aria-live="polite">{said}</p>;
}
