import { later } from "../Later";

const { soon, Show } = later(() => import("./pages"));
export const loadCarrySoon = soon;

/** The pages of handing over and taking over. `id`: the match that is handed over; null to take one over. */
export function Carry({ id }: { id: string | null }) {
  return <Show back={{ to: "/matches", name: "Matches" }}>{(pages) => (id === null ? <pages.TakeOverView /> : <pages.HandOverView id={id} />)}</Show>;
}
