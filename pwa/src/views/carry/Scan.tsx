import { useEffect, useRef, useState } from "preact/hooks";
import { readCode, type Taking } from "../../actions/carry/take";
import { buzz, stayAwake } from "../../actions/match/device";
import { makeReader, openCamera, watch, type NoCamera, type Reader } from "../../parts/qr/camera";

const WHY: Readonly<Record<NoCamera | "no decoder", string>> = {
  refused: "The camera is not allowed here. Allow it for this page in the browser's settings and try again.",
  none: "No camera was found on this device.",
  busy: "The camera cannot be used now. Perhaps another app has it.",
  "not here": "The browser gives the camera only to pages with a secure address (https).",
  "no decoder": "What reads the codes could not be loaded. Open this page once with a network, then it stays here.",
};

/** The camera is asked for at the tap, and let go when one leaves. */
export function Scan({ now }: { now: Taking }) {
  const [scanning, scan] = useState(false);
  const [why, setWhy] = useState<keyof typeof WHY | null>(null);
  const reader = useRef<Promise<Reader> | null>(null);
  useEffect(() => {
    const made = (reader.current = makeReader()); // before the network may be gone; no camera yet
    return () => void made.then(({ close }) => close());
  }, []);
  const failed = (reason: keyof typeof WHY): void => {
    setWhy(reason);
    scan(false);
  };
  return (
    <section class="scan" aria-labelledby="scan-title">
      <h2 id="scan-title" class={scanning ? "unseen" : ""}>Scan codes</h2>
      {scanning && reader.current ? <Looking now={now} reader={reader.current} onFail={failed} onStop={() => scan(false)} /> : (
        <>
          <p>The phone that logs the match shows them: More, Hand over, Show codes.</p>
          <button type="button" class="strong" onClick={() => { setWhy(null); scan(true); }}>Scan</button>
        </>
      )}
      {why && <p class="notice" role="alert"><b>{WHY[why]}</b> Without it: a file, or a code from the coach where the server can be reached.</p>}
    </section>
  );
}

function Looking({ now, reader, onFail, onStop }: { now: Taking; reader: Promise<Reader>; onFail: (why: keyof typeof WHY) => void; onStop: () => void }) {
  const video = useRef<HTMLVideoElement>(null);
  useEffect(() => {
    let closed = false;
    const closing: (() => void)[] = [() => void stayAwake(false)];
    const start = async (): Promise<void> => {
      const screen = video.current;
      if (!screen) return;
      void stayAwake(true);
      const opened = await openCamera(screen);
      if (typeof opened === "string") return onFail(opened);
      if (closed) return opened();
      closing.push(opened);
      const made = await reader;
      if (!closed) closing.push(watch(screen, made, (text) => void readCode(text), () => onFail("no decoder")));
    };
    void start();
    return () => {
      closed = true;
      for (const close of closing) close();
    };
  }, []);
  const [seen] = now.seen;
  const read = seen?.pieces.size ?? 0;
  useEffect(() => {
    if (read > 0) buzz();
  }, [read]);
  return (
    <>
      <video ref={video} playsInline muted aria-label="What the camera sees" />
      <p class="which" role="status">{!seen ? (now.other ? "That is a code of something else." : "Hold the codes into the picture.") : <><b>{read} of {seen.count}</b>{now.about && ` · ${now.about.name ?? "a match without a name"}${now.about.said ? `, ${now.about.said}` : ""}`}</>}</p>
      {seen && <progress max={seen.count} value={read} aria-label="Codes read" />}
      {seen && seen.count <= MOST_DOTS && <p class="dots" aria-hidden="true">{Array.from({ length: seen.count }, (_, i) => <i key={i} class={seen.pieces.has(i) ? "on" : ""} />)}</p>}
      <button type="button" onClick={onStop}>Stop</button>
    </>
  );
}

const MOST_DOTS = 60; // chosen: three rows on a phone
