// Carries a job to another phone: a link, a QR code of it, or a line of text. Everything that was given goes along.
"use strict";
(() => {
  const { element } = gaugeleaf;
  /** What a line says besides values; a value of such a name is told from it by its day. */
  const HEAD = ["job", "v", "of", "rev", "kit", "day", "note", "raw", "who", "by", "about"];
  const { handbook = "" } = document.documentElement.dataset;
  const { revision = "" } = /** @type {HTMLElement} */ (document.querySelector(".job-bar")).dataset;
  /** Letters that may stand as they are, so that the code stays small. @param {string} text */
  const encode = (text) => encodeURIComponent(text).replaceAll("%20", "+").replaceAll("%2F", "/");

  /**
   * The days, that of most values first: it needs no naming.
   * @param {Taken[]} taken
   */
  function days(taken) {
    /** @param {string} day */
    const often = (day) => taken.filter((one) => one.when === day).length;
    return [...new Set(taken.map((one) => one.when))].sort((one, other) => often(other) - often(one));
  }

  /** Who took which values: of the one who took most no values are named. @param {Record<string, KeptValue>} given @returns {[string, string][]} */
  function authors(given) {
    /** @type {Map<string, string[]>} */
    const by = new Map();
    for (const [name, one] of Object.entries(given)) by.set(one.by ?? "", [...(by.get(one.by ?? "") ?? []), name]);
    const most = [...by].sort(([, one], [, other]) => other.length - one.length);
    return most.length === 1 && by.has("") ? [] : most.map(([who, names], at) => ["by", at === 0 ? `${who}|` : `${who}|${names.join(",")}`]);
  }

  /** What was noted of single values. @param {Record<string, KeptValue>} given @returns {[string, string][]} */
  const notes = (given) => Object.entries(given).flatMap(([name, one]) => (one.note ? [["about", `${name}|${one.note}`]] : []));

  /** The job as the parts of one line of text. @param {KeptJob} job */
  function line(job) {
    const known = days(Object.values(job.given));
    /** @type {[string, string][]} */
    const parts = [["job", job.name], ["v", "2"], ["of", handbook], ["rev", revision]];
    if (job.kit) parts.push(["kit", job.kit]);
    if (job.note) parts.push(["note", job.note]);
    for (const day of known) parts.push(["day", day]);
    for (const [name, { text, when }] of Object.entries(job.given)) {
      const at = known.indexOf(when);
      parts.push([at === 0 && !HEAD.includes(name) ? name : `${name}.${at}`, text]);
    }
    if (job.who) parts.push(["who", job.who]);
    parts.push(...authors(job.given), ...notes(job.given));
    for (const [name, { text, unit }] of Object.entries(job.refused)) {
      parts.push([`${name}.no`, text]);
      if (unit) parts.push([`${name}.unit`, unit]);
    }
    return parts;
  }

  /** What a newer handbook made goes on as it is. @param {NewerJob} job @returns {[string, string][]} */
  const newer = (job) => [["job", job.name], ["v", String(job.version)], ["of", handbook], ["raw", JSON.stringify(job)]];

  /**
   * @param {string} text
   * @param {() => void} act
   */
  function button(text, act) {
    const made = element("button", "", text);
    made.type = "button";
    made.addEventListener("click", act);
    return made;
  }

  gaugeleaf.carriedBy = (job) => {
    const known = gaugeleaf.store.opened(job);
    const carried = (known ? line(known) : newer(job)).map(([name, text]) => `${name}=${encode(text)}`).join("&");
    const link = `${location.href.replace(/#.*/s, "")}#${carried}`;
    const local = location.protocol === "file:";
    return { local, link, words: local ? carried : link };
  };

  gaugeleaf.share = (place, job) => {
    const { local, link, words } = gaugeleaf.carriedBy(job);

    const said = element("p", "share-said", "");
    said.setAttribute("role", "status");
    const text = element("p", "share-words", words);
    text.tabIndex = 0;
    const code = element("div", "share-code", "");

    const send = button(local ? worded("share.copy_line") : worded("share.send"), async () => {
      try {
        if (!local && navigator.share) await navigator.share({ title: job.name, url: link });
        else {
          await navigator.clipboard.writeText(words);
          said.textContent = worded("share.copied");
        }
      } catch {
        said.textContent = worded("share.by_hand");
        getSelection()?.selectAllChildren(text);
      }
    });
    const draw = button(worded("share.show_code"), async () => {
      draw.disabled = true;
      try {
        const sharer = await gaugeleaf.sharer();
        const drawn = sharer({ do: "qr", text: words });
        if (!drawn.svg) said.textContent = worded("share.too_long");
        else {
          code.innerHTML = drawn.svg;
          code.setAttribute("role", "img");
          code.setAttribute("aria-label", worded("share.code_of", { job: job.name }));
          said.textContent = drawn.level === "quartile"
            ? worded("share.hold")
            : worded("share.hold_long");
        }
      } catch {
        draw.disabled = false;
        said.textContent = worded("share.no_code");
      }
    });
    const head = local
      ? worded("share.head_local")
      : worded("share.head");
    place.replaceChildren(element("p", "", head), text, send, draw, code, said);
    place.hidden = false;
    send.focus();
  };
})();
