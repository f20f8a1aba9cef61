// Chance that is the same on every machine, and slips of the thumb.

export class Dice {
  constructor(seed) { this.state = seed >>> 0; }

  /** A whole number from 0 up to but not including `end`. */
  below(end) {
    this.state = (this.state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(this.state ^ (this.state >>> 15), this.state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) % end;
  }
}

/** One letter too many, too few or wrong, or two swapped, in the longest word. */
export function slip(title, dice) {
  const words = title.split(" ");
  const letters = (word) => (/^[a-z]+$/i.test(word) ? word.length : 0);
  const longest = words.reduce((best, word, at) => (letters(word) > letters(words[best]) ? at : best), 0);
  const word = [...words[longest]];
  const at = dice.below(word.length);
  const letter = String.fromCharCode(97 + dice.below(26));
  switch (dice.below(4)) {
    case 0: word.splice(at, 0, letter); break;
    case 1: word.splice(at, 1); break;
    case 2: word[at] = letter; break;
    default: [word[at], word[Math.max(0, at - 1)]] = [word[Math.max(0, at - 1)], word[at]];
  }
  words[longest] = word.join("");
  return words.join(" ");
}
