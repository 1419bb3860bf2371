// What a calculator's form can be filled from, where that is too much for each page: one script a calculator,
// loaded when the calculator is about to be seen. It needs parts.js before it.
(() => {
  "use strict";

  /** @param {string} address @param {string} name the calculator's @returns {Promise<object[]>} each whole */
  async function load(address, name) {
    const found = await window.HandbookParts.load(address, `presets-${name}`);
    return found.presets.map((preset) => whole(preset, found.cabinets));
  }

  /** What all of a cabinet share stands in the file once. */
  function whole({ machine, inputs, ...preset }, cabinets) {
    return { ...preset, inputs: { ...cabinets[machine], ...inputs } };
  }

  /** Put all of them into the list, around the one that may stand there already. */
  function list(select, presets) {
    const [nothing] = select.options;
    const made = presets.map(({ name }, number) => new Option(name, String(number)));
    select.replaceChildren(nothing, ...made);
  }

  window.HandbookPresets = { load, list };
})();
