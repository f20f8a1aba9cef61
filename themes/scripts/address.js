// A widget's inputs in the page's address: #guide-tube-length?stock_length=14&channel_depth=9%20in
"use strict";
gaugeleaf.address = {
  /** The inputs that the address carries for the widget, or null when it names another. */
  read(id) {
    const fragment = location.hash.slice(1);
    const mark = fragment.indexOf("?");
    if (mark < 0 || fragment.slice(0, mark) !== id) return null;
    // A plus sign is a plus sign here, never a space.
    return new URLSearchParams(fragment.slice(mark + 1).replaceAll("+", "%2B"));
  },

  write(id, entries) {
    const inputs = entries.map(([name, value]) => `${name}=${encodeURIComponent(value)}`).join("&");
    try {
      history.replaceState(history.state, "", `#${id}${inputs && `?${inputs}`}`);
    } catch { /* some browsers limit how often; the next change writes it */ }
  },
};
