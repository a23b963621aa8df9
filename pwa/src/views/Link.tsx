import type { ComponentChildren } from "preact";
import { go, type Route } from "../actions/route";

/** A link inside the app: opens in place, and like any link in a new tab when asked to. */
export function Link({ to, children, class: name = "link" }: { to: Route; children: ComponentChildren; class?: string }) {
  const follow = (event: MouseEvent): void => {
    if (event.metaKey || event.ctrlKey || event.shiftKey) return;
    event.preventDefault();
    go(to);
  };
  return <a href={to} class={name} onClick={follow}>{children}</a>;
}
