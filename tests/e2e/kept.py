"""All that a browser keeps of a site, as one text: to look for what should not be there."""

from __future__ import annotations

from playwright.sync_api import Page

EVERYTHING = """async () => {
  const said = (asked) => new Promise((done, fail) => {
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
  const kept = { local: { ...localStorage }, session: { ...sessionStorage }, cookies: document.cookie };
  for (const { name } of await indexedDB.databases()) {
    const db = await said(indexedDB.open(name));
    for (const store of db.objectStoreNames) {
      const rows = () => db.transaction(store).objectStore(store);
      kept[`${name}/${store}`] = [await said(rows().getAllKeys()), await said(rows().getAll())];
    }
    db.close();
  }
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const asked of await cache.keys()) {
      const answer = await cache.match(asked);
      const type = answer.headers.get("Content-Type") ?? "";
      kept[`cache ${asked.url}`] = /text|json|script/.test(type) ? await answer.text() : type;
    }
  }
  return JSON.stringify(kept);
}"""


def kept(page: Page) -> str:
    """Return what IndexedDB, caches and storages of the page's site hold."""
    found: str = page.evaluate(EVERYTHING)
    assert "cornerwise/kept" in found
    return found


def wait_until_gone(page: Page, word: str) -> None:
    """Wait until nothing kept has a word in it."""
    for _ in range(150):
        if word not in kept(page):
            return
        page.wait_for_timeout(100)
    where = [part[:80] for part in kept(page).split('"') if word in part]
    raise AssertionError(f"{word} is still kept: {where}")
