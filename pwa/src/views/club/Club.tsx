import { later } from "../Later";

const { soon, Show } = later(() => import("./pages"));
export const loadClubSoon = soon;

/** The pages of signing in, joining and the club, and the one page of a server view. */
export function Club({ page }: { page: "/sign-in" | "/join" | "/club" | "bench" }) {
  return (
    <Show back={page === "bench" ? null : { to: "/matches", name: "Matches" }}>
      {(pages) => (page === "/sign-in" ? <pages.SignInView /> : page === "/join" ? <pages.JoinView /> : page === "/club" ? <pages.ClubView /> : <pages.BenchView />)}
    </Show>
  );
}
