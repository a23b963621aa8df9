/** Where the reader is: the path of the address bar, so that the back button works. */
import { createStore } from "../store/store";

export const ROUTES = ["/", "/server", "/compare"] as const;
export type Route = (typeof ROUTES)[number];

const here = (): Route => ROUTES.find((route) => route === location.pathname) ?? "/";

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
