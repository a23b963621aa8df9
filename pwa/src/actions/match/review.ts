/** The review of a match or of one set, as the service counts it. */
import { useEffect, useState } from "preact/hooks";
import type { Review } from "../../api/match";
import { getReview } from "../../api/matches";
import { keep, recall } from "../../store/kept";

/** Returns the review, kept from last time until the fresh one is there; asks again when `position` changes. */
export function useReview(id: string | null, set_number: number | null, position: number): Review | null {
  const [review, setReview] = useState<Review | null>(null);
  useEffect(() => {
    let wanted = true;
    const name = `review/${id}/${set_number ?? "all"}`;
    const show = (found: Review | undefined): void => void (wanted && found && setReview(found));
    if (id) {
      void recall<Review>(name).then((kept) => review === null && show(kept));
      getReview(id, set_number).then((found) => { show(found); void keep(name, found); }, () => undefined);
    }
    return () => void (wanted = false);
  }, [id, set_number, position]);
  return review;
}
