// The phone itself as a level, where the browser lets a page know how the phone lies; what it reads goes into a reading
// of the Level form. It needs inputs.js before it and comes before calculator.js, whose forms it waits for. Where there
// is nothing to read with, nothing is shown, and typing remains.
(() => {
  "use strict";

  const WORDS = {
    offer: "Use this phone as a level",
    title: "This phone as a level",
    across: "Left to right",
    along: "Front to back",
    care: "Case off. On the body, not on the door. A phone is good to about 0.1°, no better: near the limit, a level decides.",
    lay: { across: "Lay its long edge along the front. Its top end points to the right, as you face the front.",
           along: "Lay its long edge front to back. Its top end points to the rear." },
    turn: { across: "Turn it end for end, in the same place, the same side down: its top end points to the left. Then read again.",
            along: "Turn it end for end, in the same place, the same side down: its top end points to the front. Then read again." },
    read: "Read",
    again: "Read again",
    over: "Start over",
    hands: "Hands off. Reading …",
    unsteady: "It moved while it was read. Let it lie still, take your hand off, and read again.",
    unturned: "It does not look turned end for end, so nothing was worked out. Start over.",
    unseen: "This phone cannot tell which way it points: if you did not turn it end for end, remove this reading and start over.",
    apart: "The two readings do not belong together: the phone’s own error would be more than 5°. Case off, the same place, the same side down. Start over.",
    upright: "It stands on end. Lay its long edge along the cabinet.",
    refused: "The browser was not allowed to read the sensor. Allow “motion and orientation” for this page and load it again, or type what a level shows.",
    none: "This device has no sensor that tells how it lies. Type what a level shows.",
    full: "There are as many readings as the form takes. Remove one first.",
    level: { across: "Level, left to right.", along: "Level, front to back." },
    high: { right: "Right side high", left: "Left side high", rear: "Rear high", front: "Front high" },
    found: (what, degrees, own, moved) => `${what}: ${degrees}°, good to about 0.1°. The phone’s own error, ${own}°, is taken out. It moved by ${moved}° while it was read.`,
    next: { across: "It stands among the readings. Now front to back.", along: "It stands among the readings." },
  };

  /** What a tap sets swinging has died down. */
  const SETTLE_MS = 1000;
  const READ_MS = 2000;
  /** Degrees: within these, two readings are together good to 0.1°, as the form takes it (the field's tolerance). */
  const STEADY = 0.2;
  /** Degrees: a phone with a worse error of its own was laid on another side, or somewhere else. */
  const OWN_MOST = 5;
  /** Degrees short of half a turn that are still one. */
  const TURN_OFF = 60;
  /** Degrees: a long axis as steep as this says which way it points no more. */
  const STEEP = 45;
  const WAYS = { across: ["right", "left"], along: ["rear", "front"] };

  const radians = (degrees) => (degrees * Math.PI) / 180;
  const degrees = (angle) => (angle * 180) / Math.PI;

  /** How the long axis lies, flat on its back or on either long edge: `tilt` in degrees, its top end high is +, and the
   * way that it points, or null. From W3C's angles (Z-X′-Y″): the axis is (−sin α cos β, cos α cos β, sin β). */
  function lies({ alpha, beta, gamma }) {
    if (beta === null || gamma === null || !Number.isFinite(beta)) return null;
    const flat = Math.cos(radians(beta));
    const turned = radians(alpha ?? 0);
    return { tilt: degrees(Math.asin(Math.sin(radians(beta)))),
             heading: alpha === null ? null : degrees(Math.atan2(-Math.sin(turned) * flat, Math.cos(turned) * flat)) };
  }

  /** Slope s and the phone's own error e, in degrees. First its top end points to the right (rear) and it reads
   * r₁ = e + s; turned end for end it reads r₂ = e − s. So s = (r₁ − r₂)/2, right (rear) high is +, and e = (r₁ + r₂)/2. */
  function reversed(first, second) {
    return { slope: (first - second) / 2, own: (first + second) / 2 };
  }

  function isTurned(first, second) {
    if (first === null || second === null) return true; // a phone that cannot tell
    const between = Math.abs(((second - first + 540) % 360) - 180);
    return between >= 180 - TURN_OFF;
  }

  function isOffered() {
    return window.isSecureContext && /^https?:$/.test(location.protocol) && "DeviceOrientationEvent" in window;
  }

  class Level {
    /** @param {HTMLElement} root a calculator's */
    constructor(root) {
      this.form = root.querySelector("form");
      this.root = root;
      this.way = "across";
      this.first = null;
      this.now = null;
      this.offer = button(WORDS.offer, () => this.open());
      this.part = this.drawn();
      this.form.querySelector('[data-rows="readings"]').after(this.offer, this.part);
      addEventListener("deviceorientation", (event) => this.hear(event));
      const wanted = () => location.hash === "#phone" && this.comeTo();
      addEventListener("hashchange", wanted);
      wanted();
    }

    drawn() {
      const part = made("section", "hb-phone");
      part.hidden = true;
      part.id = "phone";
      part.setAttribute("aria-label", WORDS.title);
      this.ways = Object.fromEntries(Object.keys(WAYS).map((way) => [way, button(WORDS[way], () => this.choose(way))]));
      const choice = made("div", "hb-phone-ways");
      choice.append(...Object.values(this.ways));
      this.told = made("p", "hb-phone-told");
      this.said = made("p", "hb-phone-said");
      this.said.setAttribute("role", "status");
      this.read = button(WORDS.read, () => this.measure());
      this.read.classList.add("hb-button--main");
      this.over = button(WORDS.over, () => this.choose(this.way));
      const presses = made("div", "hb-phone-do");
      presses.append(this.read, this.over);
      part.append(made("h4", "", WORDS.title), made("p", "hb-phone-care", WORDS.care), choice, this.told, presses, this.said);
      return part;
    }

    /** From a tap: some phones give leave only there. */
    open() {
      const leave = permission();
      this.show();
      this.read.focus();
      leave.then((isGiven) => isGiven || this.say(WORDS.refused));
    }

    show() {
      this.offer.hidden = true;
      this.part.hidden = false;
      this.choose(this.way);
    }

    /** From a link: the leave is asked for by the first reading. */
    comeTo() {
      this.show();
      for (let fold = this.part.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
      this.part.scrollIntoView();
    }

    choose(way) {
      clearTimeout(this.timer);
      this.way = way;
      this.first = this.taken = null;
      for (const [each, press] of Object.entries(this.ways)) press.setAttribute("aria-pressed", String(each === way));
      this.told.textContent = WORDS.lay[way];
      this.wait(false);
      this.say("");
    }

    wait(isBusy) {
      this.read.disabled = isBusy;
      this.read.textContent = this.first ? WORDS.again : WORDS.read;
      this.over.hidden = !this.first;
    }

    say(text) {
      this.said.textContent = text;
    }

    /** Some browsers tell only of a change: what was heard last holds until the next. */
    hear(event) {
      const found = lies(event);
      if (!found) return;
      this.now = found;
      this.taken?.push(found);
    }

    async measure() {
      const leave = permission();
      clearTimeout(this.timer);
      this.wait(true);
      this.say(WORDS.hands);
      if (!(await leave)) return this.refuse(WORDS.refused);
      this.timer = setTimeout(() => {
        this.taken = this.now ? [this.now] : [];
        this.timer = setTimeout(() => this.take(), READ_MS);
      }, SETTLE_MS);
    }

    take() {
      const taken = this.taken;
      this.taken = null;
      if (!taken.length) return this.refuse(WORDS.none);
      const tilts = taken.map(({ tilt }) => tilt);
      const [least, most] = [Math.min(...tilts), Math.max(...tilts)];
      if (most - least > STEADY) return this.refuse(WORDS.unsteady);
      if (Math.max(-least, most) > STEEP) return this.refuse(WORDS.upright);
      const found = { tilt: (least + most) / 2, moved: most - least, heading: taken.at(-1).heading };
      return this.first ? this.finish(found) : this.turn(found);
    }

    refuse(words) {
      this.wait(false);
      this.say(words);
    }

    turn(found) {
      this.first = found;
      this.wait(false);
      this.told.textContent = WORDS.turn[this.way];
      this.say("");
    }

    finish(second) {
      const { slope, own } = reversed(this.first.tilt, second.tilt);
      if (!isTurned(this.first.heading, second.heading)) return this.refuse(WORDS.unturned);
      if (Math.abs(own) > OWN_MOST) return this.refuse(WORDS.apart);
      const { way } = this;
      const shown = Math.abs(slope).toFixed(2);
      const side = Number(shown) ? WAYS[way][slope > 0 ? 0 : 1] : `none_${way}`;
      if (!this.fill(side, shown)) return this.refuse(WORDS.full);
      const unseen = this.first.heading === null || second.heading === null ? ` ${WORDS.unseen}` : "";
      const moved = Math.max(this.first.moved, second.moved).toFixed(2);
      this.choose(way === "across" ? "along" : "across");
      const what = WORDS.high[side] ?? WORDS.level[way].replace(/\.$/, "");
      return this.say(`${WORDS.found(what, shown, Math.abs(own).toFixed(2), moved)}${unseen} ${WORDS.next[way]}`);
    }

    /** Into a reading of the form, as if it had been typed. What nobody typed there, an example, gives way. */
    fill(side, shown) {
      const { addRow, control, number, rowsOf } = window.HandbookInputs;
      const rows = rowsOf(this.form, "readings");
      const all = () => [...rows.querySelectorAll(".hb-row")];
      if (this.root.dataset.from !== "reader") all().forEach((row) => row.remove());
      let at = all().findIndex((row) => isOf(row, this.way));
      if (at < 0) {
        if (all().length >= Number(rows.dataset.most)) return false;
        addRow(rows).removeAttribute("open");
        at = all().length - 1;
      }
      number(rows);
      const put = (key, value) => (control(this.form, `readings.${at}.${key}`).value = value);
      put("high", side);
      put("shown_as", "phone");
      put("phone", shown);
      control(this.form, `readings.${at}.phone`).dispatchEvent(new Event("input", { bubbles: true }));
      return true;
    }
  }

  /** A reading that this phone has given before, the same way. */
  function isOf(row, way) {
    const value = (key) => row.querySelector(`[name$=".${key}"]`).value;
    return value("shown_as") === "phone" && [...WAYS[way], `none_${way}`].includes(value("high"));
  }

  /** @returns {Promise<boolean>} whether the page may listen; most browsers do not ask. */
  async function permission() {
    const ask = window.DeviceOrientationEvent.requestPermission;
    if (typeof ask !== "function") return true;
    try {
      return (await ask.call(window.DeviceOrientationEvent)) === "granted";
    } catch {
      return false;
    }
  }

  function made(name, className, text = "") {
    return Object.assign(document.createElement(name), { className, textContent: text });
  }

  function button(text, act) {
    const press = Object.assign(made("button", "hb-button", text), { type: "button" });
    press.addEventListener("click", act);
    return press;
  }

  if (!isOffered()) return;
  for (const tile of document.querySelectorAll("[data-phone-level]")) tile.hidden = false;
  document.addEventListener("handbook-form", ({ target }) => target.dataset.calculator === "level" && new Level(target));
})();
