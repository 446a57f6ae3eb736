// Give htmx the page's token, so that what it sends is known to come from this page.
const token = document.querySelector('meta[name="csrf-token"]')?.content;

if (token) {
  document.addEventListener("htmx:configRequest", (event) => {
    const target = new URL(event.detail.path, location.href);
    if (target.origin === location.origin) {
      event.detail.headers["X-CSRFToken"] = token;
    }
  });
}
