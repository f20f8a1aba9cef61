// Names of people: which are one person's, however they were typed.
"use strict";
(() => {
  /** Without accents, which are left out by whoever has no key for them; vowel signs of other scripts stay. @param {string} name */
  const plain = (name) => name.normalize("NFD").replace(/[\u0300-\u036f]/g, "").replace(/[^\p{L}\p{M}\p{N}]+/gu, " ").trim().toLowerCase();
  /** @param {string} name */
  const words = (name) => plain(name).split(" ");

  /** A family name may stand first. @param {string} one @param {string} other */
  const same = (one, other) => plain(one) !== "" && words(one).sort().join(" ") === words(other).sort().join(" ");

  /** One letter more, less or another. @param {string} one @param {string} other @returns {boolean} */
  function isSlip(one, other) {
    if (one.length > other.length) return isSlip(other, one);
    if (other.length - one.length > 1) return false;
    let at = 0;
    while (at < one.length && one[at] === other[at]) at += 1;
    return one.slice(one.length === other.length ? at + 1 : at) === other.slice(at + 1);
  }

  /** Each word of the first name is one of the other's, or begins it. @param {string} one @param {string} other */
  function isShort(one, other) {
    const [few, many] = [words(one), words(other)];
    return (few.length > 1 || few.some((word) => word.length > 1))
      && few.every((word) => many.some((long) => long === word || word.length === 1 && long[0] === word));
  }

  const near = (/** @type {string} */ one, /** @type {string} */ other) => plain(one) !== "" && plain(other) !== ""
    && (isSlip(plain(one), plain(other)) || isShort(one, other) || isShort(other, one));

  gaugeleaf.names = {
    same,
    /** A name has letters: two dashes are nobody, and nobody else. */
    isName: (name) => /\p{L}/u.test(name),
    near: (one, other) => !same(one, other) && near(one, other),
    apart: (one, other) => !same(one, other) && (!near(one, other) || confirm(worded("person.ask_two", { one, other }))),
  };
})();
