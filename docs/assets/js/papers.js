// Papers to fill in with a pen: shows the one that was chosen and fills in what our data say of a site. Plain script; it
// needs parts.js, store.js and here.js before it. Without it all papers stand there, blank.
(() => {
  "use strict";

  const ROOT = window.HandbookParts.root;
  const WORDS = {
    site: "Site",
    none: "No site: lines to write on",
    visit: "Visit",
    each: "Each visit",
    product: "Product that is recalled",
    print: "Print this paper",
    missing: "The list of sites is missing: copy the whole folder again. The papers can be filled in by hand.",
    lanes: (tray, first, count) => `${tray}: ${first}${count > 1 ? `–${first + count - 1}` : ""}`,
    full: (count, pieces) => (count > 1 ? `${count} × ${pieces}` : `${pieces}`),
    cases: (pieces, size) => {
      if (!size) return "";
      const [cases, rest] = [Math.floor(pieces / size), pieces % size];
      const whole = cases ? `${cases} ${cases > 1 ? "cases" : "case"} of ${size}` : "";
      return [whole, rest ? `${rest} ${rest > 1 ? "pieces" : "piece"}` : ""].filter(Boolean).join(" + ");
    },
    empty: "stays empty",
    rolls: (rolls) => `Brought the first time: ${rolls.join(", ")}.`,
    counters: (text) => `Where the readings stand on this cabinet: ${text}`,
  };

  const papers = [...document.querySelectorAll(".hb-paper")];
  const lists = Object.fromEntries([...document.querySelectorAll(".hb-paper [data-rows]")].map((table) => [table.dataset.rows, table]));
  /** Each table as it was built: what is filled in once more begins from it. */
  const blank = new Map(Object.values(lists).map((table) => [table, table.cloneNode(true)]));

  // -- which paper ------------------------------------------------------------------------

  function show() {
    const chosen = papers.find((each) => each.dataset.paper === location.hash.slice(1)) ?? papers[0];
    for (const each of papers) {
      const isShown = each === chosen;
      each.hidden = each.previousElementSibling.hidden = !isShown;
    }
    for (const link of document.querySelectorAll(".hb-paper-list a")) {
      if (link.hash === `#${chosen.dataset.paper}`) link.setAttribute("aria-current", "true");
      else link.removeAttribute("aria-current");
    }
  }

  // -- what our data say ------------------------------------------------------------------

  /** A site's plan as rows that name their product. */
  function lanesOf(told, site) {
    return told.plans[site[3]].map(([tray, first, count, product, pieces]) => ({
      where: WORDS.lanes(tray, first, count), count, pieces, product, name: told.products[product]?.[0] ?? WORDS.empty,
    }));
  }

  /** What a visit brings, in van order; where no visit is planned, what a full cabinet holds. */
  function goodsOf(told, site, visit) {
    const planned = site[9]?.[visit]?.[1] ?? [];
    if (!planned.length) return heldOf(told, site);
    return planned.map(([product, bring, fill]) => [told.products[product][0], `${fill}`, `${bring}`, WORDS.cases(bring, told.products[product][1])]);
  }

  /** Products of a plan in the order of its lanes, with all their pieces. */
  function heldOf(told, site) {
    const sums = new Map();
    for (const { product, count, pieces } of lanesOf(told, site)) {
      if (product >= 0) sums.set(product, (sums.get(product) ?? 0) + count * pieces);
    }
    return [...sums].map(([product, pieces]) => [told.products[product][0], `${pieces}`]);
  }

  /** Sites whose plan holds a product, with its lanes and pieces. */
  function holders(told, product) {
    return told.sites.flatMap((site) => {
      const held = lanesOf(told, site).filter((each) => each.product === product);
      const pieces = held.reduce((sum, { count, pieces: each }) => sum + count * each, 0);
      return held.length ? [[`${site[1]}, ${told.cabinets[site[2]][0]}`, held.map(({ where }) => where).join("; "), `${pieces}`]] : [];
    });
  }

  /** One line for each holder that the data name: “Route keeper: door. Office: one sealed set”. */
  function keysOf(sites) {
    return sites.flatMap(([, name, , , , , , , keys]) => keys.split(/\.\s+/).filter(Boolean).map((each) => [name, each.replace(/\.$/, "")]));
  }

  // -- filling in -------------------------------------------------------------------------

  function say(key, text) {
    for (const place of document.querySelectorAll(`[data-say="${key}"]`)) {
      place.textContent = text;
      if (place.matches("p")) place.hidden = !text;
    }
  }

  function clear(table) {
    table.replaceChildren(...blank.get(table).cloneNode(true).childNodes);
  }

  /** Rows of a table: what is known, then lines to write on, so many that the sheet is as full as before. */
  function fill(table, rows, spare = 3) {
    clear(table);
    if (!rows.length) return;
    const body = table.tBodies[0];
    const columns = table.tHead.rows[0].cells.length;
    body.replaceChildren(...[...rows, ...Array.from({ length: spare }, () => [])].map((cells) => row(cells, columns)));
  }

  function row(cells, columns) {
    const line = document.createElement("tr");
    for (let at = 0; at < columns; at++) {
      const cell = document.createElement(at || !cells.length ? "td" : "th");
      if (cell.tagName === "TH") cell.scope = "row";
      cell.textContent = cells[at] ?? "";
      line.append(cell);
    }
    return line;
  }

  /** A column for each coin; the first line holds what the tubes start with. */
  function fillFloat(table, { tubes = [], worth = "" }) {
    clear(table);
    if (!tubes.length) return;
    for (const line of table.rows) {
      const [, first] = line.cells;
      const cells = tubes.map(([coin, start], at) => {
        const cell = at ? first.cloneNode() : first;
        if (line.parentElement.tagName === "THEAD") cell.textContent = coin;
        else if (line === table.tBodies[0].rows[0] && /^\d+$/.test(start)) cell.textContent = start;
        return cell;
      });
      first.after(...cells.slice(1));
    }
    table.tBodies[0].rows[0].cells[3 + tubes.length].textContent = worth;
  }

  function put(told, site, visit = 0) {
    const cabinet = site ? told.cabinets[site[2]] : [];
    const float = site ? told.floats[site[4]] : {};
    say("site", site?.[1] ?? "");
    say("cabinet", cabinet[0] ?? "");
    say("where", site ? [site[5], site[6]].filter(Boolean).join("; ") : "");
    say("counters", cabinet[1] ? WORDS.counters(cabinet[1]) : "");
    say("rolls", float.rolls?.length ? WORDS.rolls(float.rolls) : "");
    fillFloat(lists.float, float);
    fill(lists.goods, site ? goodsOf(told, site, visit) : [], 2);
    fill(lists.lanes, site ? lanesOf(told, site).map(({ where, name, count, pieces, product }) => [where, name, product < 0 ? "" : WORDS.full(count, pieces)]) : [], 0);
    fill(lists.keys, keysOf(site ? [site] : told.sites), site ? 8 : 3);
  }

  // -- choosing ---------------------------------------------------------------------------

  function chooser(label, options, then) {
    const box = Object.assign(document.createElement("label"), { className: "hb-field hb-screen-only" });
    const select = document.createElement("select");
    select.append(...options.map(([value, text]) => new Option(text, value)));
    select.addEventListener("change", () => then(select.value));
    box.append(Object.assign(document.createElement("span"), { textContent: label }), select);
    return { box, select };
  }

  /** The visits of a site, to choose from where there are several. */
  function visitsOf(then) {
    const { box, select } = chooser(WORDS.visit, [], (number) => then(Number(number)));
    const offer = (site, wanted) => {
      const days = (site?.[9] ?? []).map(([day]) => day || WORDS.each);
      select.replaceChildren(...days.map((day, number) => new Option(day, number)));
      box.hidden = days.length < 2;
      const number = Number(wanted) || 0;
      if (days.length) select.value = days[number] ? `${number}` : "0";
      return Number(select.value) || 0;
    };
    return { box, offer };
  }

  async function begin() {
    show();
    addEventListener("hashchange", show);
    const told = await window.HandbookParts.load(`${ROOT}assets/papers.js`, "papers").catch(() => null);
    const list = document.querySelector(".hb-paper-list");
    if (!told) return list.after(Object.assign(document.createElement("p"), { className: "hb-notice", textContent: WORDS.missing }), window.HandbookParts.checkLink());
    const siteOf = (key) => told.sites.find((each) => each[0] === key);
    const { box, select } = chooser(WORDS.site, [["", WORDS.none], ...told.sites.map(([key, name]) => [key, name])], (key) => choose(key));
    const print = Object.assign(document.createElement("button"), { type: "button", className: "hb-button hb-screen-only", textContent: WORDS.print });
    print.addEventListener("click", () => window.print());
    list.before(box);
    list.after(print);
    const products = chooser(WORDS.product, [["", ""], ...told.products.map(([name], at) => [at, name])], (at) => {
      say("product", at ? told.products[at][0] : "");
      fill(lists.recall, at ? holders(told, Number(at)) : [], 4);
    });
    document.querySelector('[data-choose="product"]').replaceWith(products.box);
    const visits = visitsOf((number) => put(told, siteOf(select.value), number));
    box.after(visits.box);
    const choose = (key, visit) => {
      select.value = siteOf(key) ? key : "";
      put(told, siteOf(select.value), visits.offer(siteOf(select.value), visit));
    };
    const asked = new URLSearchParams(location.search);
    choose(asked.get("site") ?? window.HandbookHere?.get()?.key, asked.get("visit"));
    // A place that the address carries may be known late: it is no new choice, and a site's own link stands over it.
    document.addEventListener("handbook-here", ({ detail }) => {
      if (!asked.has("site") || detail?.key !== asked.get("here")) choose(detail?.key);
    });
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", begin);
  else begin();
})();
