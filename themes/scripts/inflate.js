// Unpacks gzip where the browser can't, as iPhones before iOS 16.4: RFC 1952 around RFC 1951. Nobody else fetches it.
"use strict";
(() => {
  /** Codes for lengths of codes come in this order (RFC 1951, 3.2.7). */
  const ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
  const LONGEST = 15;

  /**
   * What symbols from 257 stand for, and those of distances (3.2.5): a base each, and how many bits follow it.
   * @param {number} count @param {number} each how many have the same number of bits @param {number} first
   */
  function bases(count, each, first) {
    const bits = Array.from({ length: count }, (_, at) => Math.max(0, Math.floor(at / each) - 1));
    let next = first;
    return bits.map((bits) => {
      const base = next;
      next += 1 << bits;
      return { base, bits };
    });
  }
  // The longest length has a symbol of its own.
  const LENGTHS = [...bases(28, 4, 3), { base: 258, bits: 0 }];
  const DISTANCES = bases(30, 2, 1);

  /** @typedef {{ counts: Uint16Array, symbols: Uint16Array }} Codes how many there are of each length, and their symbols in order */

  /** @param {ArrayLike<number>} lengths @returns {Codes} */
  function codes(lengths) {
    const counts = new Uint16Array(LONGEST + 1);
    for (let at = 0; at < lengths.length; at += 1) counts[lengths[at]] += 1;
    counts[0] = 0;
    const next = new Uint16Array(LONGEST + 2);
    for (let length = 1; length <= LONGEST; length += 1) next[length + 1] = next[length] + counts[length];
    const symbols = new Uint16Array(lengths.length);
    for (let at = 0; at < lengths.length; at += 1) if (lengths[at]) symbols[next[lengths[at]]++] = at;
    return { counts, symbols };
  }

  /** The codes that need not be sent (3.2.6). */
  const FIXED = codes(Array.from({ length: 288 }, (_, at) => (at < 144 ? 8 : at < 256 ? 9 : at < 280 ? 7 : 8)));
  const FIXED_DISTANCES = codes(new Uint8Array(30).fill(5));

  const SUMS = Uint32Array.from({ length: 256 }, (_, byte) => {
    let sum = byte;
    for (let bit = 0; bit < 8; bit += 1) sum = sum & 1 ? 0xedb88320 ^ (sum >>> 1) : sum >>> 1;
    return sum;
  });

  /** The check sum of RFC 1952, 8. @param {Uint8Array} bytes */
  const sum = (bytes) => ~bytes.reduce((sum, byte) => SUMS[(sum ^ byte) & 255] ^ (sum >>> 8), -1) >>> 0;

  const damaged = () => new RangeError("damaged");

  /** Where the packed data begins, behind the head and what it may hold (RFC 1952, 2.3). @param {Uint8Array} packed */
  function begin(packed) {
    if (packed[0] !== 0x1f || packed[1] !== 0x8b || packed[2] !== 8) throw damaged();
    const flags = packed[3];
    let at = 10;
    if (flags & 4) at += 2 + packed[at] + 256 * packed[at + 1];
    for (const flag of [8, 16]) if (flags & flag) at = packed.indexOf(0, at) + 1;
    return flags & 2 ? at + 2 : at;
  }

  /** @param {Uint8Array} packed @returns {ArrayBuffer} */
  function inflate(packed) {
    const end = packed.length - 8;
    // The last eight bytes tell what comes out: its check sum and how much it is.
    const told = new DataView(packed.buffer, packed.byteOffset + end);
    const size = told.getUint32(4, true);
    const out = new Uint8Array(size);
    let at = begin(packed);
    let to = 0;
    let held = 0;
    let count = 0;

    /** The next bits as a number. @param {number} want */
    function bits(want) {
      while (count < want) {
        if (at >= end) throw damaged();
        held |= packed[at] << count;
        at += 1;
        count += 8;
      }
      const taken = held & ((1 << want) - 1);
      held >>>= want;
      count -= want;
      return taken;
    }

    /** Codes of one length follow each other, and the next longer ones behind them, doubled. @param {Codes} codes */
    function symbol({ counts, symbols }) {
      let code = 0;
      let first = 0;
      let before = 0;
      for (let length = 1; length <= LONGEST; length += 1) {
        code |= bits(1);
        const here = counts[length];
        if (code - first < here) return symbols[before + code - first];
        before += here;
        first = (first + here) << 1;
        code <<= 1;
      }
      throw damaged();
    }

    function stored() {
      held = 0;
      count = 0;
      const length = packed[at] + 256 * packed[at + 1];
      at += 4;
      if (at + length > end || to + length > size) throw damaged();
      out.set(packed.subarray(at, at + length), to);
      at += length;
      to += length;
    }

    /** The codes of one block, which are themselves sent as lengths, in codes (3.2.7). */
    function sent() {
      const [literals, distances, kinds] = [bits(5) + 257, bits(5) + 1, bits(4) + 4];
      const short = new Uint8Array(ORDER.length);
      for (let kind = 0; kind < kinds; kind += 1) short[ORDER[kind]] = bits(3);
      const by = codes(short);
      const lengths = new Uint8Array(literals + distances);
      for (let filled = 0; filled < lengths.length;) {
        const kind = symbol(by);
        if (kind < 16) {
          lengths[filled] = kind;
          filled += 1;
          continue;
        }
        const again = kind === 16 ? lengths[filled - 1] : 0;
        const times = kind === 16 ? 3 + bits(2) : kind === 17 ? 3 + bits(3) : 11 + bits(7);
        if (filled + times > lengths.length) throw damaged();
        lengths.fill(again, filled, filled + times);
        filled += times;
      }
      return [codes(lengths.subarray(0, literals)), codes(lengths.subarray(literals))];
    }

    /** @param {Codes} literals @param {Codes} distances */
    function block(literals, distances) {
      for (let one = symbol(literals); one !== 256; one = symbol(literals)) {
        if (one < 256) {
          if (to >= size) throw damaged();
          out[to] = one;
          to += 1;
          continue;
        }
        const long = LENGTHS[one - 257];
        const length = long.base + bits(long.bits);
        const far = DISTANCES[symbol(distances)];
        const from = to - far.base - bits(far.bits);
        if (from < 0 || to + length > size) throw damaged();
        // What is copied may reach into what is being written.
        for (let copied = 0; copied < length; copied += 1) out[to + copied] = out[from + copied];
        to += length;
      }
    }

    for (let last = 0; last === 0;) {
      last = bits(1);
      const kind = bits(2);
      if (kind === 0) stored();
      else if (kind === 1) block(FIXED, FIXED_DISTANCES);
      else if (kind === 2) {
        const [literals, distances] = sent();
        block(literals, distances);
      } else throw damaged();
    }
    if (to !== size || sum(out) !== told.getUint32(0, true)) throw damaged();
    return out.buffer;
  }

  gaugeleaf.inflate = inflate;
})();
