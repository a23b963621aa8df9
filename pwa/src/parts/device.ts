/** What kind of device this is, where the words differ. */
export const megabytes = (bytes: number): string => `${bytes < 1e6 ? (bytes / 1e6).toFixed(1) : Math.round(bytes / 1e6)} MB`;

/** iPhone and iPad; an iPad calls itself a Mac, but no Mac has a touch screen. */
export const isApple = (): boolean =>
  /iPhone|iPad|iPod/.test(navigator.userAgent) || (/Macintosh/.test(navigator.userAgent) && navigator.maxTouchPoints > 1);

/** Opened from the Home Screen or as an installed app. */
export const isInstalled = (): boolean => matchMedia("(display-mode: standalone)").matches || (navigator as { standalone?: boolean }).standalone === true;

/** Returns what this device may be called in a list, for a start. */
export function deviceLabel(): string {
  const kind = /iPad|Tablet/.test(navigator.userAgent) || (/Android/.test(navigator.userAgent) && !/Mobile/.test(navigator.userAgent)) || (isApple() && !/iPhone|iPod/.test(navigator.userAgent)) ? "Tablet"
    : /iPhone|iPod|Android|Mobile/.test(navigator.userAgent) ? "Phone" : "Computer";
  return isInstalled() ? `${kind}, installed app` : kind;
}

/** This address leads to this device itself: no other phone gets there. */
export const isOwnAddress = (hostname = location.hostname): boolean => /^(localhost|127\.|\[::1\])/.test(hostname);
