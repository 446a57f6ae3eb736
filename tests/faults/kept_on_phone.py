"""What a phone keeps: read out of the browser's own stores."""

from typing import Any

from playwright.sync_api import Page

READ = """async () => {
  const open = (name) => new Promise((resolve, reject) => {
    const asked = indexedDB.open(name);
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  const all = (store) => new Promise((resolve) => {
    const asked = store.getAll();
    asked.onsuccess = () => resolve(asked.result);
  });
  const kept = { drafts: [], files: [], pages: [], local: Object.keys(localStorage),
                 session: Object.keys(sessionStorage) };
  for (const { name } of await indexedDB.databases()) {
    const base = await open(name);
    for (const room of ["drafts", "files"]) {
      if (!base.objectStoreNames.contains(room)) continue;
      const rows = await all(base.transaction(room).objectStore(room));
      for (const row of rows) kept[room].push(await told(row));
    }
    base.close();
  }
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys()) {
      const { pathname } = new URL(request.url);
      if (!pathname.startsWith("/static/")) kept.pages.push(pathname);
    }
  }
  return kept;

  async function told(row) {
    if (!(row instanceof Blob)) return JSON.parse(JSON.stringify(row));
    const bytes = new Uint8Array(await row.arrayBuffer());
    const text = Array.from(bytes.slice(0, 4000), (each) => String.fromCharCode(each)).join("");
    const picture = await createImageBitmap(row).catch(() => null);
    return { size: row.size, type: row.type, exif: text.includes("Exif"),
             side: picture && [picture.width, picture.height] };
  }
}"""


def kept_on(page: Page) -> dict[str, list[Any]]:
    """Return drafts, files (size, type, whether they hold Exif, sides in dots) and kept pages."""
    return page.evaluate(READ)
