// On a calculator's own page its question is asked as soon as the form is there: the answer is worked out while the rest of
// the page is still read. asking.js, which asks the same later, has it then; whatever else it asks ends this. Plain script
// that stands behind the calculator; it needs inputs.js before it.
(() => {
  const root = document.querySelector("[data-calculator]");
  const form = root.querySelector("form");
  const { follow, question } = window.HandbookInputs;
  follow(form);
  const asked = question(form, form.querySelector("[name=units][checked]").value, JSON.parse(root.querySelector(".hb-facts").textContent));
  window.HandbookPython.ahead(root.dataset.calculator, JSON.stringify(asked));
})();
