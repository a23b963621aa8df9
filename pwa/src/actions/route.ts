/** Where the reader is: the path of the address bar, so that the back button works. */
import { createStore } from "../store/store";

export const ROUTES = ["/", "/server", "/compare", "/learn", "/matches", "/matches/new", "/take", "/opponents", "/team", "/sign-in", "/join", "/club"] as const;
/** A match is under its id, its review below it. */
export type MatchRoute = `/match/${string}`;
/** A team of ours is under its id. */
export type TeamRoute = `/team/${string}`;
/** An opponent is under its id, its call book below it. */
export type OpponentRoute = `/opponent/${string}`;
export type Route = (typeof ROUTES)[number] | MatchRoute | TeamRoute | OpponentRoute;

const isMatch = (path: string): path is MatchRoute => /^\/match\/[0-9a-f-]{36}(\/review|\/share)?$/.test(path);
const isTeam = (path: string): path is TeamRoute => /^\/team\/[0-9a-f-]{36}$/.test(path);
const isOpponent = (path: string): path is OpponentRoute => /^\/opponent\/[0-9a-f-]{36}(\/book)?$/.test(path);
const here = (): Route => ROUTES.find((route) => route === location.pathname) ?? (isMatch(location.pathname) || isTeam(location.pathname) || isOpponent(location.pathname) ? location.pathname : "/");

export const matchPath = (id: string): MatchRoute => `/match/${id}`;
export const reviewPath = (id: string): MatchRoute => `/match/${id}/review`;

export const sharePath = (id: string): MatchRoute => `/match/${id}/share`;

export const teamPath = (id: string): TeamRoute => `/team/${id}`;

/** Returns the team that a route shows, null for another route. */
export const teamOf = (route: Route): string | null => /^\/team\/(.+)$/.exec(route)?.[1] ?? null;

/** Returns the match that a route hands over, null for another route. */
export const sharedOf = (route: Route): string | null => /^\/match\/([^/]+)\/share$/.exec(route)?.[1] ?? null;

/** Returns the match that a route shows, and whether its review is shown. */
export function matchOf(route: Route): { readonly id: string; readonly review: boolean } | null {
  const [, id, review] = /^\/match\/([^/]+)(\/review)?$/.exec(route) ?? [];
  return id === undefined ? null : { id, review: review !== undefined };
}

export const opponentPath = (id: string): OpponentRoute => `/opponent/${id}`;
export const bookPath = (id: string): OpponentRoute => `/opponent/${id}/book`;

/** Returns the opponent that a route shows, and whether its call book is shown. */
export function opponentIn(route: Route): { readonly id: string; readonly book: boolean } | null {
  const [, id, book] = /^\/opponent\/([^/]+)(\/book)?$/.exec(route) ?? [];
  return id === undefined ? null : { id, book: book !== undefined };
}

export const place = createStore<{ readonly route: Route }>({ route: "/" });

export function go(route: Route): void {
  if (route !== here()) history.pushState({ within: true }, "", route);
  place.set({ route });
}

/** Goes back to the call: by the browser's own history when we came from there. */
export function goBack(): void {
  if ((history.state as { within?: boolean } | null)?.within) history.back();
  else go("/");
}

export function followHistory(): void {
  place.set({ route: here() });
  addEventListener("popstate", () => place.set({ route: here() }));
}
