// Open a question as a dialog: <a href="#ask-3" data-ask>. Without this, the link shows it too.
document.addEventListener("click", (event) => {
  const opener = event.target.closest("[data-ask]");
  if (opener) {
    const question = document.getElementById(opener.hash.slice(1));
    if (question?.showModal) {
      event.preventDefault();
      question.showModal();
    }
    return;
  }
  const no = event.target.closest("[data-ask-no]");
  const open = no?.closest("dialog[open]");
  if (open) {
    event.preventDefault();
    open.close();
  }
});
