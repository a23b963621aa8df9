import { waitingToBeSent, type Live } from "../../actions/match/live";

/** Whether everything is on this device, and what is still to be sent. */
export function Sync({ now }: { now: Live }) {
  const waiting = waitingToBeSent(now);
  const words = waiting > 0 ? `saved here, ${waiting} to send` : "saved and sent";
  return <span class={`sync caption${now.gone ? " gone" : ""}`} role="status">{now.gone ? `no server: ${waiting > 0 ? `${waiting} kept here` : "all kept here"}` : words}</span>;
}
