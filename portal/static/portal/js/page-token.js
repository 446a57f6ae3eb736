// Give htmx the page's token, so that what it sends is known to come from this page.
document.addEventListener("htmx:configRequest", (event) => {
  const token = document.querySelector('meta[name="csrf-token"]')?.content;
  const target = new URL(event.detail.path, location.href);
  if (token && target.origin === location.origin) {
    event.detail.headers["X-CSRFToken"] = token;
  }
});
