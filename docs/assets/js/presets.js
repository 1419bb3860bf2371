// What a calculator's form can be filled from, where that is too much for each page: one script a calculator,
// loaded when the calculator is about to be seen. A page opened as a file may load nothing else.
(() => {
  "use strict";

  /** @type {Map<string, Promise<object[]>>} by address: several calculators of a page share it */
  const loading = new Map();

  /** @param {string} address @param {string} name the calculator's @returns {Promise<object[]>} each whole */
  function load(address, name) {
    if (!loading.has(address)) loading.set(address, fetched(address, name));
    return loading.get(address);
  }

  function fetched(address, name) {
    const script = document.createElement("script");
    return new Promise((resolve, reject) => {
      script.onload = () => {
        const found = window.HandbookAssets?.[`presets-${name}`];
        script.remove();
        if (found) resolve(found.presets.map((preset) => whole(preset, found.cabinets)));
        else reject(new Error("damaged"));
      };
      script.onerror = () => reject(new Error("missing"));
      script.src = address;
      document.head.append(script);
    });
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
