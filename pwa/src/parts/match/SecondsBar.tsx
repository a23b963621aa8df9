/** The seconds to serve run out from one side to the other, quietly; begins again with each new key. */
export function SecondsBar({ seconds }: { seconds: number }) {
  return <div class="seconds" aria-hidden="true"><i style={{ animationDuration: `${seconds}s` }} /></div>;
}
