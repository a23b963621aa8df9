/** Where the reader is: the path of the address bar, so that the back button works. */
import { createStore } from "../store/store";

export const ROUTES = ["/", "/server", "/compare", "/learn", "/matches", "/matches/new", "/take", "/sign-in", "/join", "/club"] as const;
/** A match is under its id, its review below it. */
export type MatchRoute = `/match/${string}`;
export type Route = (typeof ROUTES)[number] | MatchRoute;

const isMatch = (path: string): path is MatchRoute => /^\/match\/[0-9a-f-]{36}(\/review|\/share)?$/.test(path);
const here = (): Route => ROUTES.find((route) => route === location.pathname) ?? (isMatch(location.pathname) ? location.pathname : "/");

export const matchPath = (id: string): MatchRoute => `/match/${id}`;
export const reviewPath = (id: string): MatchRoute => `/match/${id}/review`;

export const sharePath = (id: string): MatchRoute => `/match/${id}/share`;

/** Returns the match that a route hands over, null for another route. */
export const sharedOf = (route: Route): string | null => /^\/match\/([^/]+)\/share$/.exec(route)?.[1] ?? null;

/** Returns the match that a route shows, and whether its review is shown. */
export function matchOf(route: Route): { readonly id: string; readonly review: boolean } | null {
  const [, id, review] = /^\/match\/([^/]+)(\/review)?$/.exec(route) ?? [];
  return id === undefined ? null : { id, review: review !== undefined };
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
