// What a calculator says: an answer that stands, one that is withdrawn, the errors at their fields:
// window.HandbookAnswer. An answer belongs to its inputs; nothing of it is left once they have changed.
"use strict";

(() => {
  /** Take the answer away at once, word, colour and all; `text` stands in its place, on paper too. */
  function withdraw(panel, text, { keepsPlace = false } = {}) {
    const { root, result } = panel;
    if (isShown(result)) {
      panel.open = opened(result);
      panel.height = result.offsetHeight;
    }
    root.setAttribute("data-withdrawn", "");
    delete root.dataset.outcome;
    panel.plain = "";
    root.querySelector(".hb-copy")?.remove();
    // The page must not jump under a reader who types.
    result.style.minHeight = keepsPlace ? `${panel.height}px` : "";
    result.replaceChildren(paragraph("hb-pending", text));
    panel.verdict.textContent = text;
    offer(panel, false);
    tell(panel);
  }

  /** Whoever shows the answer elsewhere, such as the row of a procedure, hears of it. */
  function tell({ root }, answer = null) {
    root.dispatchEvent(new CustomEvent("handbook-answer", { bubbles: true, detail: answer }));
  }

  function nodes(text) {
    return new DOMParser().parseFromString(text, "text/html").body.childNodes;
  }

  /** Show what Python made. */
  function show(panel, answer) {
    put(panel, answer);
    panel.result.style.minHeight = "";
    panel.root.removeAttribute("data-withdrawn");
    panel.root.dataset.outcome = answer.outcome;
    panel.plain = answer.plain;
    offer(panel, true);
    tell(panel, answer);
  }

  /** Put an answer in its place. Where none stands it is a first one: to be read, not to be copied or carried elsewhere. */
  function put(panel, answer) {
    const { root, result } = panel;
    const open = isShown(result) ? opened(result) : panel.open;
    result.replaceChildren(...nodes(answer.html));
    panel.verdict.replaceChildren(...nodes(answer.verdict));
    for (const fold of result.querySelectorAll("details")) want(fold, open.has(named(fold)));
    root.querySelector(".hb-copy")?.remove();
  }

  /** Whether an answer is to be read there, a first one too. */
  function isShown(result) {
    return Boolean(result.querySelector(".hb-outcome"));
  }

  /** The parts of a result that a reader has opened; they stay open, and they alone are printed. */
  function opened(result) {
    return new Set([...result.querySelectorAll("details[open]")].map(named));
  }

  /** “12 checks pass” is the same part as “11 checks pass”. */
  function named(fold) {
    return fold.querySelector("summary").textContent.replace(/\d+/g, "");
  }

  function want(fold, isWanted) {
    fold.open = isWanted;
    fold.classList.toggle("hb-wanted", isWanted);
  }

  /** Print, copy and link are for an answer that stands; pressed without one they say why not. */
  function offer(panel, stands) {
    for (const button of panel.root.querySelectorAll(".hb-after [data-do]")) {
      button.toggleAttribute("aria-disabled", !stands);
      if (!stands) button.setAttribute("aria-disabled", "true");
    }
  }

  function paragraph(name, text) {
    const made = document.createElement("p");
    made.className = name;
    made.textContent = text;
    return made;
  }

  // -- errors ---------------------------------------------------------------------------

  function showErrors(panel, errors, focus) {
    clearErrors(panel);
    if (!errors.length) return;
    const head = paragraph("", errors.length === 1 ? "One answer cannot be used:" : `${errors.length} answers cannot be used:`);
    const list = document.createElement("ul");
    for (const error of errors) list.append(errorLine(panel, error));
    panel.errors.append(head, list);
    panel.errors.hidden = false;
    panel.wrong = errors[0].message;
    if (focus) panel.errors.focus();
  }

  function clearErrors({ form, errors }) {
    errors.hidden = true;
    errors.replaceChildren();
    for (const wrong of form.querySelectorAll(".hb-wrong")) wrong.remove();
    for (const control of form.querySelectorAll("[aria-invalid]")) {
      control.removeAttribute("aria-invalid");
      describe(control, (ids) => ids.filter((id) => !id.endsWith("-wrong")));
    }
  }

  /** In the list above the form, and at the field itself. */
  function errorLine(panel, error) {
    const item = document.createElement("li");
    const control = window.HandbookInputs.control(panel.form, error.field) ?? adder(panel.form, error.field);
    if (!control) {
      item.textContent = error.message;
      return item;
    }
    markWrong(control, error.message);
    const link = document.createElement("a");
    link.href = `#${control.id}`;
    link.textContent = error.message;
    link.addEventListener("click", (event) => {
      event.preventDefault();
      unfold(control);
      control.focus();
    });
    item.append(link);
    return item;
  }

  /** A list of rows is no control; its button stands for it. */
  function adder(form, name) {
    const button = window.HandbookInputs.rowsOf(form, name)?.querySelector('[data-do="add"]');
    if (button) button.id ||= `${form.closest("section").id}-${name}-add`;
    return button;
  }

  function markWrong(control, message) {
    const id = `${control.id}-wrong`;
    const place = control.closest(".hb-field") ?? control.parentElement;
    const known = [...place.children].find((each) => each.id === id);
    if (known) known.textContent += ` ${message}`; // two things wrong with one value
    else place.append(Object.assign(paragraph("hb-wrong", message), { id }));
    control.setAttribute("aria-invalid", "true");
    describe(control, (ids) => [...ids.filter((each) => each !== id), id]);
    unfold(control);
  }

  function describe(control, change) {
    const ids = change((control.getAttribute("aria-describedby") ?? "").split(" ").filter(Boolean));
    if (ids.length) control.setAttribute("aria-describedby", ids.join(" "));
    else control.removeAttribute("aria-describedby");
  }

  /** What is wrong must be seen: a fold round it opens. */
  function unfold(control) {
    for (let fold = control.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
  }

  window.HandbookAnswer = { withdraw, show, put, showErrors, clearErrors, paragraph };
})();
