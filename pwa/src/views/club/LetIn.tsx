import { useEffect, useState } from "preact/hooks";
import { codeFor } from "../../actions/club";
import type { Code, CodeRequest } from "../../api/club";
import { isOwnAddress } from "../../parts/device";
import { QrCode } from "../../parts/qr/QrCode";

const SECOND_MS = 1000;

/** A button that makes a code, and the code with the time it has left. `open`: the button's words; `what`: what the device will be able to see. */
export function LetIn({ open, request, what, disabled = false }: { open: string; request: CodeRequest; what: string; disabled?: boolean }) {
  const [code, setCode] = useState<Code | null>(null);
  const [why, setWhy] = useState("");
  const key = JSON.stringify(request);
  useEffect(() => setCode(null), [key]);
  const make = async (): Promise<void> => {
    const made = await codeFor(request);
    setWhy(typeof made === "string" ? made : "");
    setCode(typeof made === "string" ? null : made);
  };
  return (
    <div class="let-in">
      {code ? <Shown code={code} onNew={() => void make()} onClose={() => setCode(null)} /> : <button type="button" class="strong" disabled={disabled} onClick={() => void make()}>{open}</button>}
      <p class="caption">{what}</p>
      {why && <p class="notice" role="alert">{why}</p>}
    </div>
  );
}

function Shown({ code: { code, path, expires_at }, onNew, onClose }: { code: Code; onNew: () => void; onClose: () => void }) {
  const [left_s, setLeft] = useState(secondsTo(expires_at));
  useEffect(() => {
    const timer = setInterval(() => setLeft(secondsTo(expires_at)), SECOND_MS);
    return () => clearInterval(timer);
  }, [expires_at]);
  if (left_s <= 0) return <div role="status"><p><b>This code is not good any more.</b></p><button type="button" class="strong" onClick={onNew}>Make a new code</button></div>;
  const page = `${location.origin}/join`;
  return (
    <div class="code-shown">
      {isOwnAddress() ? (
        <p class="notice"><b>This address is open to this device alone.</b> For other phones start the server with --lan, and open the app here by the address that it prints. On this device another browser can use the code.</p>
      ) : (
        <>
          <p>Point the other phone’s own camera app at it.</p>
          <div class="white small"><QrCode text={`${location.origin}${path}`} label={`Address that lets a device in: ${page}`} /></div>
        </>
      )}
      <p>Or open <b class="address">{page}</b> there and type</p>
      <p class="code" data-code={code}>{code.slice(0, 4)} {code.slice(4)}</p>
      <p class="caption">For one device, for <span class="countdown">{inMinutes(left_s)}</span> more. A phone that never opened the app here goes through the start page of this server first.</p>
      <button type="button" class="quiet" onClick={onClose}>Hide the code</button>
    </div>
  );
}

const secondsTo = (iso: string): number => Math.ceil((Date.parse(iso) - Date.now()) / SECOND_MS);
const inMinutes = (s: number): string => (s >= 60 ? `${Math.ceil(s / 60)} min` : `${s} s`);
