// Carries a job to another phone: a link, a QR code of it, or a line of text.
"use strict";
(() => {
  const { element } = gaugeleaf;
  /** Letters that may stand as they are, so that the code stays small. @param {string} text */
  const encode = (text) => encodeURIComponent(text).replaceAll("%20", "+").replaceAll("%2F", "/");

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

  gaugeleaf.share = async (place, job, form) => {
    // What equals the handbook's own needs no carrying: the other phone has the same handbook.
    const asked = Object.fromEntries(Object.keys(job.given).map((name) => [name, job.given[name]]));
    // Where that can't be told, everything is carried.
    const known = await gaugeleaf.ask({ do: "measure", inputs: asked }).catch(() => null);
    const differs = Object.keys(job.given).filter((name) => {
      const own = form.querySelector(`[data-input="${name}"]`)?.parentElement?.dataset.own;
      return known?.inputs[name]?.text !== own;
    });
    const line = [["job", job.name], ...differs.map((name) => [name, job.given[name]])]
      .map(([name, text]) => `${name}=${encode(text)}`)
      .join("&");
    const link = `${location.href.replace(/#.*/s, "")}#${line}`;
    const local = location.protocol === "file:";
    const words = local ? line : link;

    const said = element("p", "share-said", "");
    said.setAttribute("role", "status");
    const text = element("p", "share-words", words);
    text.tabIndex = 0;
    const code = element("div", "share-code", "");

    const send = button(local ? "Copy the line" : "Send or copy the link", async () => {
      try {
        if (!local && navigator.share) await navigator.share({ title: job.name, url: link });
        else {
          await navigator.clipboard.writeText(words);
          said.textContent = "Copied.";
        }
      } catch {
        said.textContent = "Copy what stands here by hand.";
        getSelection()?.selectAllChildren(text);
      }
    });
    const draw = button("Show QR code", async () => {
      draw.disabled = true;
      try {
        const sharer = await gaugeleaf.sharer();
        const drawn = sharer({ do: "qr", text: words });
        if (!drawn.svg) said.textContent = "This job is too long for a QR code. Send the link.";
        else {
          code.innerHTML = drawn.svg;
          code.setAttribute("role", "img");
          code.setAttribute("aria-label", `QR code of job ${job.name}`);
          said.textContent = drawn.level === "quartile"
            ? "Hold the other phone's camera over the code."
            : "Hold the other phone's camera over the code. This long code stands little glare: shade the screen.";
        }
      } catch {
        draw.disabled = false;
        said.textContent = "The code could not be drawn. Send the link.";
      }
    });
    const head = local
      ? "This handbook lies on this phone alone, so a link leads nowhere. The other phone needs the same handbook: open its job page there, tap \"Take over a job\" and paste this line."
      : "Open this link on the other phone. It shows the job, and asks before it keeps it.";
    place.replaceChildren(element("p", "", head), text, send, draw, code, said);
    place.hidden = false;
    send.focus();
  };
})();
