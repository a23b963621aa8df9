import { useEffect, useState } from "preact/hooks";
import { joinCode } from "../../actions/carry/join";
import { matchPath } from "../../actions/route";
import { QrCode } from "../../parts/qr/QrCode";

const OWN = /^(localhost|127\.|\[::1\])/; // this device itself: no other phone gets there

/** Where both phones reach the same server: the match's address, drawn and in words, and a code to type. */
export function SameServer({ id }: { id: string }) {
  const [shown, show] = useState(false);
  const [code, setCode] = useState<string | null>(null);
  useEffect(() => {
    if (shown) void joinCode(id).then(setCode);
  }, [shown, id]);
  const address = `${location.origin}${matchPath(id)}`;
  return (
    <section aria-labelledby="server-title">
      <h2 id="server-title">With a network: the same server</h2>
      {!shown ? <button type="button" onClick={() => show(true)}>Open on another phone</button> : (
        <>
          {OWN.test(location.hostname) ? <p class="notice">This server is open to this device alone. Others need its address in the local network.</p> : (
            <>
              <p>Point the other phone's own camera app at it, or type the address.</p>
              <div class="white small"><QrCode text={address} label={`The match's address, ${address}`} /></div>
              <p class="address">{address}</p>
            </>
          )}
          {code === "" ? <p class="caption" role="status">The server cannot be reached now, so there is no code to type.</p> : (
            <p>Where Cornerwise is open already: Matches, Take over, and type <b class="code">{code ? `${code.slice(0, 3)} ${code.slice(3)}` : "…"}</b> <span class="caption">good for an hour</span></p>
          )}
        </>
      )}
    </section>
  );
}
