import { useEffect } from "preact/hooks";
import { acceptUpdate, askToKeep, bring, installApp, lookAtStorage, shell } from "../actions/shell";
import { isApple, isInstalled, megabytes } from "../parts/device";
import { Sign } from "../parts/Sign";
import { useStore } from "../store/store";

/** A newer version waits. Shown where no rally can be going on; it comes when the coach says so. */
export function UpdateOffer() {
  const { update } = useStore(shell);
  if (update === "none") return null;
  if (update === "held") return <Sign act="Try again" onAct={() => void acceptUpdate()}>A set is in play in another tab: the newer version waits for its end.</Sign>;
  return <Sign act="Take it now" onAct={() => void acceptUpdate()}>A newer version is here.</Sign>;
}

/** Whether the app starts without network, and what to do if it does not yet. */
export function ReadySign() {
  const { ready, getting, problem } = useStore(shell);
  if (ready) return <p class="ready caption" role="status">Ready without network</p>;
  if (problem === "stopped") return <Sign act="Try again" onAct={() => void bring()}>Not ready without network yet: the download broke off. With a network it goes on by itself.</Sign>;
  if (problem === "full") return <Sign act="Try again" onAct={() => void bring()}>Not ready without network: there is no room for the app on this device. Remove photos, videos or apps.</Sign>;
  if (problem === "insecure") return <Sign>Opened under this address the app needs its network all the time. Over HTTPS it is kept on this device.</Sign>;
  if (problem === "blocked") return <Sign>This browser does not keep the app: it needs its network all the time. An ordinary window of an up-to-date browser keeps it.</Sign>;
  if (getting) return <p class="ready caption" role="status">Getting ready for use without network: {megabytes(getting.kept)} of {megabytes(getting.all)}. Stay on the network.</p>;
  return null;
}

/** Before a match: whether what is logged will stay on this device. `asks` where a match is about to begin. */
export function RoomNote({ asks = false }: { asks?: boolean }) {
  const now = useStore(shell);
  useEffect(() => void (asks ? askToKeep() : lookAtStorage()), [asks]);
  if (now.storage === "refused") {
    return (
      <div class="notice" role="alert">
        <p><b>This browser lets the app store nothing.</b> What you log would be lost when the page closes. Private windows do that, and settings that refuse site data. Open Cornerwise in an ordinary window, or allow this site to store data.</p>
        <button type="button" onClick={() => void lookAtStorage()}>Look again</button>
      </div>
    );
  }
  if (now.low) {
    return (
      <div class="notice" role="alert">
        <p><b>There is little room left on this device.</b> A tap that finds no room cannot be kept. Before the match, remove photos, videos or apps that are not needed.</p>
        <button type="button" onClick={() => void lookAtStorage()}>Look again</button>
      </div>
    );
  }
  if (asks && now.storage === "may_be_cleared") return <p class="caption">If this device runs short of room, the browser may clear what is kept here. It does not with an installed app (Settings, on the first screen), nor with what the server has.</p>;
  return null;
}

const STAYS = { unknown: "", kept: "What is logged here stays until you remove it.", may_be_cleared: "If this device runs short of room, the browser may clear what is kept here.", refused: "This browser lets the app store nothing." } as const;

/** In the settings: the app on this device. */
export function OnThisDevice() {
  const { installable, storage } = useStore(shell);
  return (
    <div class="on-device">
      <h3>On this device</h3>
      <ReadySign />
      {STAYS[storage] && <p class="caption">{STAYS[storage]}</p>}
      {installable && <button type="button" onClick={() => void installApp()}>Install the app</button>}
      {isApple() && !isInstalled() && <p class="caption">To install it on iPhone or iPad: tap Share in Safari, then Add to Home Screen, and open it there once with network. What Safari keeps may be cleared when it was not opened for a week; what the app on the Home Screen keeps is not.</p>}
      <p class="caption">A new device needs the network once: open the app, wait for “Ready without network”. From then on it starts without any.</p>
    </div>
  );
}
