/** What kind of device this is, where the words differ. */
export const megabytes = (bytes: number): string => `${bytes < 1e6 ? (bytes / 1e6).toFixed(1) : Math.round(bytes / 1e6)} MB`;

/** iPhone and iPad; an iPad calls itself a Mac, but no Mac has a touch screen. */
export const isApple = (): boolean =>
  /iPhone|iPad|iPod/.test(navigator.userAgent) || (/Macintosh/.test(navigator.userAgent) && navigator.maxTouchPoints > 1);

/** Opened from the Home Screen or as an installed app. */
export const isInstalled = (): boolean => matchMedia("(display-mode: standalone)").matches || (navigator as { standalone?: boolean }).standalone === true;
