// Show how far a form with photos has got: <form data-upload enctype="multipart/form-data">
// with a [data-upload-progress] part inside. Without this the form is sent plainly.
const STEP = 25; // per cent between two announcements: not every one of them is worth hearing

function parts(form) {
  const part = form.querySelector("[data-upload-progress]");
  return {
    part,
    bar: part.querySelector("progress"),
    share: part.querySelector("[data-share]"),
    status: part.querySelector("[role=status]"),
  };
}

function say(form, words) {
  parts(form).status.textContent = words;
}

function setBusy(form, busy) {
  form.toggleAttribute("data-busy", busy);
  form.setAttribute("aria-busy", String(busy));
  for (const button of form.querySelectorAll("button[type=submit], input[type=submit]")) {
    button.disabled = busy;
  }
}

function failed(form) {
  setBusy(form, false);
  parts(form).part.hidden = true;
  const place = form.querySelector("[data-upload-failed]");
  place.textContent = parts(form).part.dataset.failed;
  place.hidden = false;
}

// The server names the next page (to be opened here, where what it has to say is seen), or answers
// with a page: the next one, or this one with what is amiss.
function follow(request) {
  const next = request.getResponseHeader("HX-Redirect");
  if (next) {
    location.assign(next);
    return;
  }
  const page = new DOMParser().parseFromString(request.responseText, "text/html");
  const main = page.querySelector("main");
  if (request.responseURL.split("#")[0] !== location.href.split("#")[0] || !main) {
    location.assign(request.responseURL);
    return;
  }
  document.querySelector("main").replaceWith(main);
  document.dispatchEvent(new Event("portal:changed"));
  main.querySelector("[data-first]")?.focus();
}

function send(form, submitter) {
  const { part, bar, share } = parts(form);
  const data = new FormData(form, submitter);
  const request = new XMLHttpRequest();
  let said = 0;
  part.hidden = false;
  form.querySelector("[data-upload-failed]").hidden = true;
  setBusy(form, true);
  say(form, part.dataset.sending);
  request.upload.addEventListener("progress", ({ loaded, total, lengthComputable }) => {
    if (!lengthComputable) return;
    const done = Math.floor((100 * loaded) / total);
    bar.value = done;
    share.textContent = `${done} %`;
    if (done >= said + STEP) {
      said = done - (done % STEP);
      say(form, `${part.dataset.sending} ${said} %`);
    }
  });
  request.upload.addEventListener("load", () => say(form, part.dataset.kept));
  request.addEventListener("load", () => (request.status < 500 ? follow(request) : failed(form)));
  request.addEventListener("error", () => failed(form));
  request.open("POST", form.action);
  request.setRequestHeader("HX-Request", "true");
  request.send(data);
}

document.addEventListener("submit", (event) => {
  const form = event.target.closest("form[data-upload]");
  if (!form || !window.XMLHttpRequest) return;
  event.preventDefault();
  if (!form.hasAttribute("data-busy")) send(form, event.submitter);
});
