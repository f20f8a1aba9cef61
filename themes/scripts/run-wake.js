// The screen stays on while a run is open.
"use strict";
(() => {
  /** Keeps the screen on, where the phone lets it; where it doesn't, that is told. @param {(words: string) => void} say */
  gaugeleaf.runWake = (say) => {
    /** @type {WakeLockSentinel | null} */
    let lock = null;
    let isWanted = false;
    async function ask() {
      isWanted = true;
      try {
        if (!navigator.wakeLock) throw new Error("none");
        lock = await navigator.wakeLock.request("screen");
        if (!isWanted) end();
      } catch {
        if (isWanted && document.visibilityState === "visible") say(worded("run.may_sleep"));
      }
    }
    function end() {
      isWanted = false;
      void lock?.release().catch(() => {});
      lock = null;
    }
    // A phone gives it up whenever another page is looked at.
    document.addEventListener("visibilitychange", () => { if (isWanted && document.visibilityState === "visible") void ask(); });
    return { ask, end };
  };
})();
